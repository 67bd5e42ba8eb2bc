//! The kit list: what to buy, how many, what it costs and how long it takes to fit.
//!
//! Prices and times are those of the plan's kinds; the shipped ones are invented round figures.

use std::collections::BTreeMap;

use super::{Cell, Table, columns};
use crate::id::Id;
use crate::kit::Kind;
use crate::project::Project;
use crate::units::Money;

/// One line of the kit list as figures.
#[derive(Clone, Debug, PartialEq)]
pub struct KitLine<'a> {
    /// The kind.
    pub kind: &'a Kind,
    /// How many are placed.
    pub quantity: usize,
    /// What they cost together.
    pub sum: Money,
    /// Minutes to fit them all.
    pub minutes: u64,
    /// What fitting them costs at the plan's hourly rate.
    pub labour: Money,
}

/// The total of a kit list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct KitTotal {
    /// How many devices.
    pub quantity: usize,
    /// What the kit costs.
    pub sum: Money,
    /// Minutes to fit it.
    pub minutes: u64,
    /// What fitting it costs: the lines' labour added up, so that the column adds up on paper.
    pub labour: Money,
}

/// The lines of the kit list: kinds of which at least one is placed, by family, code and name.
pub fn kit_lines(project: &Project) -> Vec<KitLine<'_>> {
    let mut counts: BTreeMap<Id<Kind>, usize> = BTreeMap::new();
    for (_, device) in project.devices.iter() {
        *counts.entry(device.kind).or_default() += 1;
    }
    let mut lines: Vec<(Id<Kind>, KitLine<'_>)> = counts
        .into_iter()
        .filter_map(|(id, quantity)| {
            let kind = project.kinds.get(id)?;
            let minutes = u64::from(kind.minutes) * quantity as u64;
            let labour = labour(project.site.hourly_rate, minutes);
            Some((id, KitLine { kind, quantity, sum: kind.price.times(quantity), minutes, labour }))
        })
        .collect();
    lines.sort_by(|(first, a), (second, b)| {
        (a.kind.family, &a.kind.code, &a.kind.name, first).cmp(&(
            b.kind.family,
            &b.kind.code,
            &b.kind.name,
            second,
        ))
    });
    lines.into_iter().map(|(_, line)| line).collect()
}

/// Minutes at an hourly rate, to the nearest hundredth.
fn labour(hourly_rate: Money, minutes: u64) -> Money {
    let hundredths = i128::from(hourly_rate.hundredths) * i128::from(minutes);
    let rounded = (hundredths + 30 * hundredths.signum()) / 60;
    Money { hundredths: i64::try_from(rounded).unwrap_or(i64::MAX) }
}

/// The lines added up.
pub fn kit_total(lines: &[KitLine<'_>]) -> KitTotal {
    KitTotal {
        quantity: lines.iter().map(|line| line.quantity).sum(),
        sum: lines.iter().map(|line| line.sum).sum(),
        minutes: lines.iter().map(|line| line.minutes).sum(),
        labour: lines.iter().map(|line| line.labour).sum(),
    }
}

/// The kit list with its total row.
pub fn kit_list(project: &Project) -> Table {
    let lines = kit_lines(project);
    let total = kit_total(&lines);
    let currency = project.site.currency.as_str();
    let mut rows: Vec<Vec<Cell>> = lines.iter().map(|line| row(line, currency)).collect();
    rows.push(vec![
        Cell::text("Total"),
        Cell::Empty,
        Cell::Empty,
        Cell::whole(total.quantity as f64),
        Cell::Empty,
        money(total.sum),
        Cell::Empty,
        hours(total.minutes),
        money(total.labour),
        currency_cell(currency),
    ]);
    Table {
        name: "kit-list",
        title: "Kit list",
        columns: columns(&[
            ("Family", ""),
            ("Kind", ""),
            ("Code", ""),
            ("Quantity", ""),
            ("Unit price", ""),
            ("Sum", ""),
            ("Fitting each", "min"),
            ("Fitting", "h"),
            ("Labour", ""),
            ("Currency", ""),
        ]),
        rows,
    }
}

fn row(line: &KitLine<'_>, currency: &str) -> Vec<Cell> {
    vec![
        Cell::text(line.kind.family.name()),
        Cell::text(line.kind.name.clone()),
        Cell::text(line.kind.code.clone()),
        Cell::whole(line.quantity as f64),
        money(line.kind.price),
        money(line.sum),
        Cell::whole(f64::from(line.kind.minutes)),
        hours(line.minutes),
        money(line.labour),
        currency_cell(currency),
    ]
}

fn money(amount: Money) -> Cell {
    Cell::Number { value: amount.as_units(), decimals: 2 }
}

fn hours(minutes: u64) -> Cell {
    Cell::Number { value: minutes as f64 / 60.0, decimals: 2 }
}

fn currency_cell(currency: &str) -> Cell {
    if currency.trim().is_empty() { Cell::Missing("currency") } else { Cell::text(currency) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn each_kind_is_one_line_and_the_last_line_adds_up() {
        let house = small_house();
        let table = kit_list(&house.project);
        let shown: Vec<String> =
            table.rows.iter().map(|row| row.iter().map(Cell::shown).collect::<Vec<_>>().join("|")).collect();
        assert_eq!(
            shown,
            [
                "Intrusion|Wall motion detector|PIR|1|45.00|45.00|25|0.42|20.83|GBP",
                "Plates|Plate, two keys|PL|1|120.00|120.00|20|0.33|16.67|GBP",
                "Luminaires|Downlight|DL|2|30.00|60.00|15|0.50|25.00|GBP",
                "Total|||4||225.00||1.25|62.50|GBP",
            ]
        );
    }

    #[test]
    fn labour_is_rounded_to_the_nearest_hundredth() {
        for (rate, minutes, expected) in [(5000, 1, 83), (5000, 25, 2083), (5000, 60, 5000), (0, 90, 0)] {
            assert_eq!(labour(Money { hundredths: rate }, minutes).hundredths, expected, "{rate} {minutes}");
        }
    }
}
