// Reports in a browser: node check.mjs CHROMIUM FOLDER REPORT...
// Pictures and printed pages go into FOLDER. Ends with 1 and says why when a report fails.

import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

import { Browser } from "./browser.mjs";

const WIDTHS = [360, 768, 1280];
const SCHEMES = ["light", "dark"];
// Inches, as the protocol wants them.
const PAPERS = { a4: [8.27, 11.69], letter: [8.5, 11] };
const MM_PER_INCH = 25.4;
const PX_PER_INCH = 96;
// The margins of pages, as page.css has them.
const MARGINS_MM = { across: 9, upright: 12 };

const [chromium, folder, ...reports] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const faults = [];

async function look(browser, report) {
  const url = pathToFileURL(resolve(report)).href;
  const name = basename(dirname(resolve(report)));
  const fault = (what) => faults.push(`${name}: ${what}`);
  const heard = { url, fault };
  browser.heard = heard;
  for (const scheme of SCHEMES) {
    await browser.ask("Emulation.setEmulatedMedia", {
      media: "screen",
      features: [{ name: "prefers-color-scheme", value: scheme }],
    });
    for (const width of WIDTHS) {
      const metrics = { width, height: 800, deviceScaleFactor: 1, mobile: width < 500 };
      await browser.ask("Emulation.setDeviceMetricsOverride", metrics);
      await browser.open(url);
      await no_sideways_scroll(browser, width, fault);
      await accessible(browser, `${width} px, ${scheme}`, fault);
      await picture(browser, width, `${name}-${width}-${scheme}`);
    }
  }
  await drawings_grow(browser, url, WIDTHS[0], fault);
  await boxes_keep(browser, url, fault);
  await readable_without_script(browser, url, fault);
  for (const [paper, size] of Object.entries(PAPERS)) await prints(browser, url, `${name}-${paper}`, size, fault);
}

async function no_sideways_scroll(browser, width, fault) {
  const [page, widest] = await browser.value(`(() => {
    const right = (element) => element.getBoundingClientRect().right;
    const shown = [...document.querySelectorAll("main *, header *")].filter((element) => !element.closest("svg, thead, .unseen"));
    const widest = shown.reduce((one, other) => (right(other) > right(one) ? other : one));
    return [document.documentElement.scrollWidth, widest.tagName + " to " + right(widest)];
  })()`);
  if (page > width) fault(`${page} px wide on a screen of ${width} px; the widest is ${widest}`);
}

async function accessible(browser, where, fault) {
  await browser.value(`${axe}; 0`);
  const found = await browser.value(`axe.run(document, { resultTypes: ["violations", "incomplete"] }).then((all) => ({
    checked: all.passes.length,
    violations: all.violations.map(({ id, impact, help, nodes }) => ({ id, impact, help, at: nodes.slice(0, 3).map((node) => node.html.slice(0, 200)) })),
  }))`);
  if (found.checked < 10) fault(`only ${found.checked} accessibility rules applied at ${where}`);
  for (const { id, impact, help, at } of found.violations) {
    fault(`${id} (${impact}) at ${where}: ${help}: ${at.join(" | ")}`);
  }
}

async function picture(browser, width, name) {
  const height = Math.min(await browser.value("document.documentElement.scrollHeight"), 12_000);
  const clip = { x: 0, y: 0, width, height, scale: 1 };
  const { data } = await browser.ask("Page.captureScreenshot", { captureBeyondViewport: true, clip });
  writeFileSync(join(folder, `${name}.png`), Buffer.from(data, "base64"));
}

async function boxes_keep(browser, url, fault) {
  const ticked = "[...document.querySelectorAll('.checks input')].map((box) => box.checked)";
  const count = (boxes) => boxes.filter(Boolean).length;
  await browser.open(url);
  const before = await browser.value(ticked);
  if (before.length === 0 || count(before) > 0) return fault(`${before.length} boxes, ${count(before)} ticked at first`);
  await browser.value("document.querySelectorAll('.checks input')[0].click()");
  await browser.value("document.querySelectorAll('.checks label')[document.querySelectorAll('.checks label').length - 1].click()");
  const wanted = before.length === 1 ? 0 : 2;
  await browser.open(url);
  const after = await browser.value(ticked);
  if (count(after) !== wanted || (wanted && !(after[0] && after.at(-1)))) fault(`ticked boxes were not kept: ${count(after)} of ${wanted}`);
  const said = await browser.value("document.querySelector('[role=status]').textContent");
  if (!/^1 of \d+ ticked$|^2 of \d+ ticked$/.test(said)) fault(`the list says "${said}" of its boxes`);
  await browser.value("document.querySelectorAll('.clear button').forEach((button) => button.click())");
  await browser.open(url);
  if (count(await browser.value(ticked)) > 0) fault("cleared boxes are ticked again");
}

// Made large, a drawing is moved about in its own frame and the page stays as wide as it was; on paper it is as large as before.
async function drawings_grow(browser, url, width, fault) {
  await browser.ask("Emulation.setEmulatedMedia", { media: "screen", features: [] });
  await browser.ask("Emulation.setDeviceMetricsOverride", { width, height: 800, deviceScaleFactor: 1, mobile: true });
  await browser.open(url);
  const drawn = "document.querySelector('figure svg').getBoundingClientRect().width";
  const before = await browser.value(drawn);
  await browser.value("document.querySelectorAll('.large input').forEach((box) => box.click())");
  const [after, page] = [await browser.value(drawn), await browser.value("document.documentElement.scrollWidth")];
  if (before > width || after < 2 * before) fault(`a drawing ${before} px wide is ${after} px wide when it is made large`);
  if (page > width) fault(`a large drawing makes the page ${page} px wide`);
  await browser.ask("Emulation.setEmulatedMedia", { media: "print", features: [] });
  const printed = await browser.value(drawn);
  if (printed > width) fault(`a drawing that was made large prints ${printed} px wide`);
}

async function readable_without_script(browser, url, fault) {
  const seen = "({ text: document.querySelector('main').innerText.length, boxes: document.querySelectorAll('input').length, buttons: [...document.querySelectorAll('button')].filter((button) => button.offsetParent).length })";
  await browser.open(url);
  const usual = await browser.value(seen);
  await browser.ask("Emulation.setScriptExecutionDisabled", { value: true });
  await browser.open(url);
  const bare = await browser.value(seen);
  await browser.ask("Emulation.setScriptExecutionDisabled", { value: false });
  if (bare.buttons > 0) fault("buttons that do nothing show without a script");
  if (bare.boxes !== usual.boxes || bare.text < 0.9 * usual.text) fault(`without a script ${bare.text} of ${usual.text} letters show`);
}

async function prints(browser, url, name, [width, height], fault) {
  await browser.ask("Emulation.setEmulatedMedia", { media: "", features: [{ name: "prefers-color-scheme", value: "dark" }] });
  await browser.open(url);
  const asked = { paperWidth: width, paperHeight: height, printBackground: false, preferCSSPageSize: false };
  const { data } = await browser.ask("Page.printToPDF", asked);
  const pdf = Buffer.from(data, "base64");
  writeFileSync(join(folder, `${name}.pdf`), pdf);
  if (!pdf.subarray(0, 5).equals(Buffer.from("%PDF-"))) fault(`${name} is no PDF`);
  await browser.ask("Emulation.setEmulatedMedia", { media: "print", features: [] });
  for (const [lies, paper] of [["across", [height, width]], ["upright", [width, height]]]) {
    await drawings_fit_a_page(browser, lies, paper, name, fault);
  }
  const boxes = await browser.value("[...document.querySelectorAll('.checks input')].map((box) => box.getBoundingClientRect().width > 8)");
  if (!boxes.every(Boolean)) fault(`boxes do not print on ${name}`);
  const decorated = await browser.value("[...document.querySelectorAll('a')].filter((link) => link.offsetParent && getComputedStyle(link).textDecorationLine !== 'none').length");
  if (decorated > 0) fault(`${decorated} underlined links print on ${name}`);
  await browser.ask("Emulation.setEmulatedMedia", { media: "screen", features: [] });
}

// A drawing with its heading and the words under it is no higher than a page, so that it is never cut.
async function drawings_fit_a_page(browser, lies, paper, name, fault) {
  const [width, height] = paper.map((inches) => Math.floor((inches - (2 * MARGINS_MM[lies]) / MM_PER_INCH) * PX_PER_INCH));
  await browser.ask("Emulation.setDeviceMetricsOverride", { width, height, deviceScaleFactor: 1, mobile: false });
  const heights = await browser.value(`[...document.querySelectorAll("figure.${lies}")].map((figure) => {
    const before = figure.previousElementSibling;
    const first = before?.tagName === "H3" ? before : figure;
    return figure.getBoundingClientRect().bottom - first.getBoundingClientRect().top;
  })`);
  heights.filter((one) => one > height).forEach((one) => fault(`a drawing of ${one} px on a page of ${height} px of ${name}`));
}

const browser = await Browser.start(chromium);
try {
  for (const domain of ["Page", "Runtime", "Log", "Network"]) await browser.ask(`${domain}.enable`);
  browser.listen(({ method, params }) => {
    const { url, fault } = browser.heard;
    if (method === "Runtime.consoleAPICalled") fault(`console: ${JSON.stringify(params.args.map((arg) => arg.value))}`);
    if (method === "Runtime.exceptionThrown") fault(`exception: ${params.exceptionDetails.exception?.description}`);
    if (method === "Log.entryAdded") fault(`console: ${params.entry.text}`);
    if (method === "Network.requestWillBeSent" && params.request.url !== url && !params.request.url.startsWith("data:")) {
      fault(`a request for ${params.request.url}`);
    }
    if (method === "Page.javascriptDialogOpening") fault(`a dialog: ${params.message}`);
  });
  for (const report of reports) await look(browser, report);
} finally {
  await browser.stop();
}
faults.forEach((fault) => console.error(`error: ${fault}`));
console.log(`${reports.length} reports looked at, ${faults.length} faults`);
process.exitCode = faults.length > 0 || reports.length === 0 ? 1 : 0;
