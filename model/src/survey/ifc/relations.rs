//! How the parts of a building belong together: storeys and what stands on them, walls and their holes, holes
//! and what fills them, things and their types and materials.

use std::collections::BTreeMap;

use super::reading::Reading;

/// How many wholes may contain one another: site, building, storey, space, element and its parts.
const DEEPEST_WHOLE: usize = 32;

/// Who belongs to whom, by the numbers of their records.
#[derive(Default)]
pub(super) struct Relations {
    /// From a part to its whole, or from an element to the structure that contains it.
    whole_of: BTreeMap<u64, u64>,
    /// Elements contained in a structure, in the file's order.
    contained: Vec<u64>,
    /// From a whole to its parts, in the file's order.
    parts_of: BTreeMap<u64, Vec<u64>>,
    /// From an element with holes to its holes: pairs in the file's order.
    pub(super) holes: Vec<(u64, u64)>,
    /// From a hole to what fills it.
    filling_of: BTreeMap<u64, u64>,
    /// From a thing to its type.
    type_of: BTreeMap<u64, u64>,
    /// From a thing or its type to its material.
    material_of: BTreeMap<u64, u64>,
}

impl Relations {
    /// Reads all relations that a plan needs.
    pub(super) fn of(reading: &Reading<'_>) -> Self {
        let mut relations = Self::default();
        let each = |entity: &str, many: usize, one: usize| {
            let mut pairs: Vec<(u64, u64)> = Vec::new();
            for number in reading.file.all_of(&[entity]) {
                let Some(relation) = reading.file.record(number) else {
                    reading.note("relations that cannot be read", number);
                    continue;
                };
                let Some(one) = relation.reference_at(one) else { continue };
                pairs.extend(relation.references_at(many).into_iter().map(|each| (each, one)));
            }
            pairs
        };
        for (element, structure) in each("IFCRELCONTAINEDINSPATIALSTRUCTURE", 4, 5) {
            relations.whole_of.entry(element).or_insert(structure);
            relations.contained.push(element);
        }
        for (part, whole) in each("IFCRELAGGREGATES", 5, 4) {
            relations.whole_of.insert(part, whole);
            relations.parts_of.entry(whole).or_default().push(part);
        }
        relations.holes =
            each("IFCRELVOIDSELEMENT", 5, 4).into_iter().map(|(hole, host)| (host, hole)).collect();
        relations.filling_of =
            each("IFCRELFILLSELEMENT", 5, 4).into_iter().map(|(fill, hole)| (hole, fill)).collect();
        relations.type_of = each("IFCRELDEFINESBYTYPE", 4, 5).into_iter().collect();
        relations.material_of = each("IFCRELASSOCIATESMATERIAL", 4, 5).into_iter().collect();
        relations
    }

    /// The nearest whole around a part for which `wanted` holds, itself included.
    pub(super) fn around(&self, part: u64, wanted: impl Fn(u64) -> bool) -> Option<u64> {
        let mut at = part;
        for _ in 0..DEEPEST_WHOLE {
            if wanted(at) {
                return Some(at);
            }
            at = *self.whole_of.get(&at)?;
        }
        None
    }

    /// Elements contained in a structure, in the file's order.
    pub(super) fn contained(&self) -> impl Iterator<Item = u64> + '_ {
        self.contained.iter().copied()
    }

    /// The parts of a whole, each once.
    pub(super) fn parts(&self, whole: u64) -> &[u64] {
        self.parts_of.get(&whole).map_or(&[], Vec::as_slice)
    }

    /// What fills a hole.
    pub(super) fn filling(&self, hole: u64) -> Option<u64> {
        self.filling_of.get(&hole).copied()
    }

    /// Everything that fills a hole.
    pub(super) fn fillings(&self) -> impl Iterator<Item = u64> + '_ {
        self.filling_of.values().copied()
    }

    /// The type of a thing.
    pub(super) fn kind(&self, thing: u64) -> Option<u64> {
        self.type_of.get(&thing).copied()
    }

    /// The material of a thing, or else of its type.
    pub(super) fn material(&self, thing: u64) -> Option<u64> {
        let of_type = || self.material_of.get(self.type_of.get(&thing)?);
        self.material_of.get(&thing).or_else(of_type).copied()
    }
}
