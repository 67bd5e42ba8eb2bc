//! Damaged files: whatever stands in them, an answer comes, and soon.

use proptest::prelude::*;

use super::read_ifc;
use super::tests::{METRES, file, small_house};

fn whole() -> Vec<u8> {
    file("IFC4", &small_house(METRES)).into_bytes()
}

/// Reads and checks that what comes back can be drawn.
fn reads_without_harm(bytes: &[u8]) {
    let Ok(building) = read_ifc(bytes, &|_| true) else { return };
    for storey in &building.storeys {
        for wall in &storey.proposal.walls {
            assert!(
                wall.start.is_finite() && wall.end.is_finite() && wall.thickness.as_mm() > 0.0,
                "{wall:?}"
            );
        }
        for opening in &storey.proposal.openings {
            let wall = storey.proposal.walls.get(opening.wall).expect("its wall");
            assert!(opening.width.as_mm() > 0.0 && opening.centre <= wall.length(), "{opening:?}");
        }
        for room in &storey.proposal.rooms {
            assert!(room.seed.is_finite() && room.outline.len() >= 3, "{room:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn changed_bytes_never_panic(changes in prop::collection::vec((0.0..1.0_f64, any::<u8>()), 1..12)) {
        let mut bytes = whole();
        for (at, byte) in changes {
            let index = (at * bytes.len() as f64) as usize;
            bytes[index] = byte;
        }
        reads_without_harm(&bytes);
    }

    /// Digits for digits keep the grammar, so the damage goes deeper: wrong references and sizes.
    #[test]
    fn changed_figures_never_panic(changes in prop::collection::vec((0.0..1.0_f64, b'0'..=b'9'), 1..30)) {
        let mut bytes = whole();
        let head = bytes.windows(5).position(|run| run == b"DATA;").unwrap_or(0);
        let digits: Vec<usize> = (head..bytes.len()).filter(|index| bytes[*index].is_ascii_digit()).collect();
        for (at, digit) in changes {
            bytes[digits[(at * digits.len() as f64) as usize]] = digit;
        }
        reads_without_harm(&bytes);
    }

    #[test]
    fn missing_and_doubled_stretches_never_panic(from in 0.0..1.0_f64, length in 0_usize..400, twice in any::<bool>()) {
        let mut bytes = whole();
        let from = (from * bytes.len() as f64) as usize;
        let to = (from + length).min(bytes.len());
        let stretch: Vec<u8> = bytes.drain(from..to).collect();
        if twice {
            bytes.splice(from..from, [stretch.clone(), stretch].concat());
        }
        reads_without_harm(&bytes);
    }

    #[test]
    fn figures_beyond_all_measure_never_panic(figure in prop::sample::select(vec!["1e308", "-1e308", "1e-308", "0.", "9e99", "NaN", "1e9"]), at in 0.0..1.0_f64) {
        let text = String::from_utf8(whole()).expect("ASCII");
        let places: Vec<usize> = text.match_indices("0.").map(|(index, _)| index).collect();
        let index = places[(at * places.len() as f64) as usize];
        reads_without_harm(format!("{}{figure}{}", &text[..index], &text[index + 2..]).as_bytes());
    }
}

#[test]
fn shapes_that_repeat_one_another_end_soon() {
    // Each shape repeats the next ten times, sixteen deep: 10 000 billion walls if no one counted.
    let mut records = small_house(METRES);
    for level in 0..16 {
        let at = 1000 + level * 20;
        let items: Vec<String> = (1..=10).map(|item| format!("#{}", at + item)).collect();
        records.push_str(&format!(
            "#{at}=IFCSHAPEREPRESENTATION(#5,'Body','MappedRepresentation',({}));",
            items.join(",")
        ));
        for item in 1..=10 {
            records.push_str(&format!("#{}=IFCMAPPEDITEM(#{},#999);", at + item, at + 15));
        }
        records.push_str(&format!("#{}=IFCREPRESENTATIONMAP(#12,#{});", at + 15, at + 20));
    }
    records.push_str("#1320=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#208));");
    records.push_str("#999=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#10,$,$);");
    let records = records.replace(
        "#205=IFCPRODUCTDEFINITIONSHAPE($,$,(#206));",
        "#205=IFCPRODUCTDEFINITIONSHAPE($,$,(#1000));",
    );
    let building = read_ifc(file("IFC4", &records).as_bytes(), &|_| true).expect("the rest of the house");
    assert!(building.not_understood.iter().any(|note| note.what.contains("refer to one another too often")));
}

#[test]
fn a_tall_stack_of_placements_does_not_overflow() {
    let mut records = small_house(METRES);
    for n in 10_000..40_000 {
        records.push_str(&format!("#{n}=IFCLOCALPLACEMENT(#{},#12);", n + 1));
    }
    let records =
        records.replace("#201=IFCLOCALPLACEMENT(#22,#202);", "#201=IFCLOCALPLACEMENT(#10000,#202);");
    let building = read_ifc(file("IFC4", &records).as_bytes(), &|_| true).expect("the rest of the house");
    assert_eq!(building.storeys[0].proposal.walls.len(), 1);
}

#[test]
fn a_room_of_crossing_faces_is_listed_and_not_put_together() {
    let mut state = 12345_u64;
    let mut figure = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (state >> 40) as f64 / 1e6
    };
    let corners: Vec<String> = (0..1200).map(|_| format!("({:?},{:?},0.)", figure(), figure())).collect();
    let faces: Vec<String> =
        (0..400).map(|n| format!("({},{},{})", 3 * n + 1, 3 * n + 2, 3 * n + 3)).collect();
    let crossing = format!(
        "#303=IFCTRIANGULATEDFACESET(#310,$,.T.,({}),$);#310=IFCCARTESIANPOINTLIST3D(({}));",
        faces.join(","),
        corners.join(",")
    );
    let records = small_house(METRES).replace("#303=IFCEXTRUDEDAREASOLID(#304,#12,#14,2.4);", &crossing);
    let building = read_ifc(file("IFC4", &records).as_bytes(), &|_| true).expect("the rest of the house");
    assert_eq!(building.storeys[0].proposal.walls.len(), 2);
    assert!(building.not_understood.iter().any(|note| note.what == "rooms without an outline"));
}
