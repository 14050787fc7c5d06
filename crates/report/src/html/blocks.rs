//! Each kind of block as HTML.

use maud::{Markup, html};

use super::inline_svg::inline;
use crate::{Align, Block, CheckList, Column, Drawing, Row, Table, Totals, names::Names};

/// One block; `id` begins every id in it.
pub(super) fn block(block: &Block, id: &str, names: &Names) -> Markup {
    match block {
        Block::Rows(rows) => self::rows(rows, names),
        Block::Table(table) => self::table(table, names),
        Block::Paragraph(text) => html! { p { (names.words(text)) } },
        Block::Notes(notes) => html! { ul.notes { @for note in notes { li { (names.words(note)) "." } } } },
        Block::Steps(steps) => html! { ol { @for step in steps { li { (names.words(step)) } } } },
        Block::CheckList(list) => check_list(list, id, names),
        Block::Drawing(drawing) => self::drawing(drawing, id, names),
        Block::Totals(totals) => self::totals(totals, names),
    }
}

fn rows(rows: &[Row], names: &Names) -> Markup {
    html! {
        dl {
            @for row in rows {
                div {
                    dt { (names.words(&row.label)) }
                    @for line in &row.lines { dd { (names.words(line)) } }
                }
            }
        }
    }
}

/// On a narrow screen cells stand one after the other with the heading of their column, so the roles of a table are said.
fn table(table: &Table, names: &Names) -> Markup {
    html! {
        table role="table" {
            caption { (names.words(&table.caption)) }
            thead role="rowgroup" {
                tr role="row" {
                    @for column in &table.columns {
                        @if column.heading.is_empty() {
                            th scope="col" role="columnheader" { span.unseen { "verdict" } }
                        } @else {
                            th scope="col" role="columnheader" class=(side(column)) { (names.words(&column.heading)) }
                        }
                    }
                }
            }
            tbody role="rowgroup" {
                @for row in &table.rows {
                    tr role="row" {
                        @for (place, (cell, column)) in row.iter().zip(&table.columns).enumerate() {
                            @if place == 0 {
                                th scope="row" role="rowheader" class=(wraps(cell)) { (names.words(cell)) }
                            } @else {
                                td role="cell" class={ (side(column)) " " (wraps(cell)) } data-label=(column.heading) { (names.words(cell)) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn side(column: &Column) -> &'static str {
    match column.align {
        Align::Left => "word",
        Align::Right => "figure",
    }
}

/// Letters of a cell that stays on one line, such as a measure with its unit.
const ONE_LINE: usize = 12;

fn wraps(cell: &str) -> &'static str {
    if cell.chars().count() <= ONE_LINE { "whole" } else { "wraps" }
}

fn check_list(list: &CheckList, id: &str, names: &Names) -> Markup {
    html! {
        div.list data-list {
            p.caption id={ (id) "-caption" } { (names.words(&list.caption)) }
            ul.checks aria-labelledby={ (id) "-caption" } {
                @for (place, item) in list.items.iter().enumerate() {
                    li {
                        input type="checkbox" id={ (id) "-" (place) } data-key=(item.key) autocomplete="off";
                        label for={ (id) "-" (place) } {
                            strong { (names.words(&item.what)) }
                            @for line in &item.how { " " span { (names.words(line)) } }
                        }
                    }
                }
            }
            p.clear hidden {
                button type="button" { "Clear these boxes" }
                " "
                span role="status" {}
            }
        }
    }
}

fn drawing(drawing: &Drawing, id: &str, names: &Names) -> Markup {
    figure(&drawing.sheet.svg(), [&drawing.alternative, &drawing.caption], id, names)
}

/// An SVG document with what is seen on it and what is written under it.
pub(super) fn figure(svg: &str, [alternative, caption]: [&str; 2], id: &str, names: &Names) -> Markup {
    html! {
        @match inline(svg, alternative, id) {
            Ok(picture) => {
                figure class=(picture.lies.class()) {
                    // On a phone a whole sheet is too small to read, so it may be made large without a script.
                    p.large {
                        input type="checkbox" id={ (id) "-large" } autocomplete="off";
                        label for={ (id) "-large" } {
                            "Show large" span.unseen { ": " (names.words(caption)) }
                        }
                    }
                    div.view tabindex="0" role="group" aria-label=(caption) { (picture.markup) }
                    figcaption { (names.words(caption)) }
                }
            }
            Err(_) => p { "The drawing cannot be shown here. " (names.words(alternative)) "." }
        }
    }
}

fn totals(totals: &Totals, names: &Names) -> Markup {
    html! {
        table.totals role="table" {
            caption { (names.words(&totals.caption)) }
            thead role="rowgroup" {
                tr role="row" {
                    th scope="col" role="columnheader" { "for" }
                    th.figure scope="col" role="columnheader" { "cost" }
                }
            }
            tbody role="rowgroup" {
                @for (what, cost) in &totals.lines {
                    tr role="row" {
                        th scope="row" role="rowheader" { (names.words(what)) }
                        td.figure role="cell" { (names.words(cost.as_deref().unwrap_or("no price given"))) }
                    }
                }
            }
            tfoot role="rowgroup" {
                @for sum in &totals.sums {
                    tr role="row" {
                        th scope="row" role="rowheader" { "Total" }
                        td.figure role="cell" { (names.words(sum)) }
                    }
                }
            }
        }
        @if !totals.unpriced().is_empty() { p { (names.words(&totals.sentence())) "." } }
    }
}
