//! The layers of a wall: how thick they are together, how they lie to its line of reference, what they are.

use super::make_up::of_layers;
use super::reading::Reading;
use super::step::Record;
use crate::plan::MakeUp;

/// What a file says of the layers of a wall.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Layers {
    /// All together, mm.
    pub(super) thickness: Option<f64>,
    /// How far the middle of the layers lies to the left of the line of reference, mm, where the file says how
    /// they lie.
    pub(super) middle: Option<f64>,
    /// What the wall is made of, where the names of its materials tell.
    pub(super) make_up: Option<MakeUp>,
}

/// The layers of the material to which a record belongs.
pub(super) fn layers_of(reading: &Reading<'_>, material: u64) -> Layers {
    let Some(record) = reading.file.record(material) else { return Layers::default() };
    match record.entity {
        "IFCMATERIALLAYERSETUSAGE" => {
            let Some(set) = reading.file.record_at(&record, 0) else { return Layers::default() };
            let mut layers = of_set(reading, &set);
            let sense = if record.word_at(2) == Some("NEGATIVE") { -1.0 } else { 1.0 };
            let offset = record.number_at(3).map(|offset| offset * reading.mm);
            let across = record.word_at(1) != Some("AXIS3") && record.word_at(1) != Some("AXIS1");
            layers.middle = offset
                .zip(layers.thickness)
                .filter(|_| across)
                .map(|(offset, thickness)| offset + sense * thickness / 2.0);
            layers
        }
        "IFCMATERIALLAYERSET" => of_set(reading, &record),
        "IFCMATERIALLAYER" | "IFCMATERIALLAYERWITHOFFSETS" => {
            let layer = layer(reading, &record);
            Layers {
                thickness: layer.as_ref().map(|(_, t)| *t),
                middle: None,
                make_up: of_layers(&Vec::from_iter(layer)),
            }
        }
        "IFCMATERIAL" => only_named(vec![record.text_at(0)]),
        "IFCMATERIALLIST" => {
            only_named(record.references_at(0).into_iter().map(|each| name_of(reading, each)).collect())
        }
        "IFCMATERIALCONSTITUENTSET" => {
            let constituents = record.references_at(2).into_iter();
            let name = |each: u64| {
                let constituent = reading.file.record(each)?;
                name_of(reading, constituent.reference_at(2)?)
            };
            only_named(constituents.map(name).collect())
        }
        other => {
            reading.note(format!("materials given as {other}"), material);
            Layers::default()
        }
    }
}

fn name_of(reading: &Reading<'_>, material: u64) -> Option<String> {
    reading.file.record(material)?.text_at(0)
}

fn only_named(names: Vec<Option<String>>) -> Layers {
    let named: Vec<(String, f64)> = names.into_iter().flatten().map(|name| (name, 1.0)).collect();
    Layers { make_up: of_layers(&named), ..Layers::default() }
}

/// The name of a layer's material and its thickness, mm.
fn layer(reading: &Reading<'_>, record: &Record<'_>) -> Option<(String, f64)> {
    let thickness = record.number_at(1)? * reading.mm;
    let material = record.reference_at(0).and_then(|material| name_of(reading, material));
    // Since IFC4 a layer may bear a name of its own.
    let name = material.or_else(|| record.text_at(3)).unwrap_or_default();
    (thickness >= 0.0).then_some((name, thickness))
}

fn of_set(reading: &Reading<'_>, set: &Record<'_>) -> Layers {
    let all = set.references_at(0);
    let read = |each: u64| layer(reading, &reading.file.record(each)?);
    let layers: Vec<(String, f64)> = all.iter().filter_map(|each| read(*each)).collect();
    let thickness: f64 = layers.iter().map(|(_, thickness)| thickness).sum();
    let whole = layers.len() == all.len() && thickness > 0.0;
    let set_name = set.text_at(1).map(|name| vec![(name, 1.0)]);
    let make_up = of_layers(&layers).or_else(|| of_layers(&set_name.unwrap_or_default()));
    Layers { thickness: whole.then_some(thickness), middle: None, make_up }
}
