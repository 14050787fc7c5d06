// A headless Chromium, spoken to through a pipe in its own protocol; nothing but node is needed for it.

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const PATIENCE_MS = 60_000;

export class Browser {
  #waiting = new Map();
  #listeners = [];
  #number = 0;
  #heard = "";

  static async start(chromium) {
    const browser = new Browser();
    browser.profile = mkdtempSync(join(tmpdir(), "ellwand-report-"));
    const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"];
    browser.process = spawn(
      chromium,
      [...flags, `--user-data-dir=${browser.profile}`, "--remote-debugging-pipe", "about:blank"],
      { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] },
    );
    browser.process.stdio[4].setEncoding("utf8").on("data", (text) => browser.#hear(text));
    const { targetInfos } = await browser.ask("Target.getTargets");
    const { targetId } = targetInfos.find((target) => target.type === "page");
    const { sessionId } = await browser.ask("Target.attachToTarget", { targetId, flatten: true });
    browser.session = sessionId;
    return browser;
  }

  #hear(text) {
    const parts = (this.#heard + text).split("\0");
    this.#heard = parts.pop();
    for (const part of parts) {
      const message = JSON.parse(part);
      const waiting = this.#waiting.get(message.id);
      if (!waiting) this.#listeners.forEach((listener) => listener(message));
      else if (message.error) waiting.reject(new Error(`${waiting.method}: ${message.error.message}`));
      else waiting.resolve(message.result);
      this.#waiting.delete(message.id);
    }
  }

  /** What a command of the protocol answers. */
  ask(method, params = {}) {
    const id = ++this.#number;
    const message = { id, method, params, ...(this.session && { sessionId: this.session }) };
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`${method}: no answer`)), PATIENCE_MS);
      const settle = (how) => (value) => { clearTimeout(timer); how(value); };
      this.#waiting.set(id, { method, resolve: settle(resolve), reject: settle(reject) });
      this.process.stdio[3].write(`${JSON.stringify(message)}\0`);
    });
  }

  listen(listener) {
    this.#listeners.push(listener);
  }

  /** Opens a page, or the same again, and waits until it is loaded. */
  async open(url) {
    const loaded = new Promise((resolve) => {
      const listener = (message) => {
        if (message.method !== "Page.loadEventFired") return;
        this.#listeners = this.#listeners.filter((other) => other !== listener);
        resolve();
      };
      this.listen(listener);
    });
    await this.ask("Page.navigate", { url });
    await loaded;
  }

  /** The value of an expression in the page. */
  async value(expression) {
    const asked = { expression, awaitPromise: true, returnByValue: true };
    const { result, exceptionDetails } = await this.ask("Runtime.evaluate", asked);
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  }

  async stop() {
    const ended = new Promise((resolve) => this.process.once("exit", resolve));
    this.process.kill();
    await ended;
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}
