//! Small buildings written here, read back.

use kurbo::Point;

use super::{Building, IfcError, looks_like_ifc, read_ifc};
use crate::plan::{Hand, MakeUp, RoomUse, Side};
use crate::survey::{ProposedDoor, ProposedForm, ProposedOpening};
use crate::units::Length;

/// Units of length as files write them, and how many of them are a metre.
pub(super) const METRES: (&str, f64) = ("#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);", 1.0);
const MILLIMETRES: (&str, f64) = ("#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);", 1000.0);
const FEET: (&str, f64) = (
    "#6=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);#7=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#6);\
     #3=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'FOOT',#7);",
    1.0 / 0.3048,
);

/// A file of that schema around its records.
pub(super) fn file(schema: &str, records: &str) -> String {
    format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n\
         FILE_NAME('n','2020-01-01T00:00:00',(''),(''),'a writer','','');\nFILE_SCHEMA(('{schema}'));\nENDSEC;\n\
         DATA;\n{records}\nENDSEC;\nEND-ISO-10303-21;\n"
    )
}

/// Records of a small house in those units. Lengths are written in metres between braces, `{2.5}`.
///
/// The site is turned and far away; the building stands on it, its one storey 0.5 m up. A wall 5 m long runs
/// along its lower face, with a door and an empty hole; a clipped wall without an axis stands square to it; a
/// room lies between them.
pub(super) fn small_house((unit, per_metre): (&str, f64)) -> String {
    let records = "
#1=IFCPROJECT('p',$,'House',$,$,$,$,(#5),#2);
#2=IFCUNITASSIGNMENT((#3,#4));
#4=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);
#5=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#12,#8);
#8=IFCDIRECTION((-0.5,0.8660254037844386));
#10=IFCCARTESIANPOINT(({0},{0},{0}));
#11=IFCDIRECTION((0.8660254037844386,0.5,0.));
#12=IFCAXIS2PLACEMENT3D(#10,$,$);
#13=IFCCARTESIANPOINT(({40},{-70},{12}));
#14=IFCDIRECTION((0.,0.,1.));
#15=IFCAXIS2PLACEMENT3D(#13,#14,#11);
#16=IFCLOCALPLACEMENT($,#15);
#17=IFCSITE('s',$,'The meadow',$,$,#16,$,$,.ELEMENT.,$,$,$,$,$);
#18=IFCLOCALPLACEMENT(#16,#12);
#19=IFCBUILDING('b',$,'House',$,$,#18,$,$,.ELEMENT.,$,$,$);
#20=IFCCARTESIANPOINT(({0},{0},{0.5}));
#21=IFCAXIS2PLACEMENT3D(#20,$,$);
#22=IFCLOCALPLACEMENT(#18,#21);
#23=IFCBUILDINGSTOREY('g',$,'Ground floor',$,$,#22,$,$,.ELEMENT.,{0.5});
#24=IFCRELAGGREGATES('r',$,$,$,#19,(#23));
#25=IFCRELAGGREGATES('r',$,$,$,#23,(#300));
#26=IFCRELCONTAINEDINSPATIALSTRUCTURE('r',$,$,$,(#100,#200,#90),#23);
#90=IFCSLAB('f',$,'Floor',$,$,#22,$,$,.FLOOR.);
#100=IFCWALLSTANDARDCASE('w',$,'South wall',$,$,#101,#104,$);
#101=IFCLOCALPLACEMENT(#22,#102);
#102=IFCAXIS2PLACEMENT3D(#103,$,$);
#103=IFCCARTESIANPOINT(({2},{1},{0}));
#104=IFCPRODUCTDEFINITIONSHAPE($,$,(#105,#110));
#105=IFCSHAPEREPRESENTATION(#5,'Axis','Curve2D',(#106));
#106=IFCPOLYLINE((#107,#108));
#107=IFCCARTESIANPOINT(({0},{0}));
#108=IFCCARTESIANPOINT(({5},{0}));
#110=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#111));
#111=IFCEXTRUDEDAREASOLID(#112,#12,#14,{2.6});
#112=IFCRECTANGLEPROFILEDEF(.AREA.,$,#113,{5},{0.3});
#113=IFCAXIS2PLACEMENT2D(#114,$);
#114=IFCCARTESIANPOINT(({2.5},{0.15}));
#120=IFCRELASSOCIATESMATERIAL('m',$,$,$,(#100),#121);
#121=IFCMATERIALLAYERSETUSAGE(#122,.AXIS2.,.POSITIVE.,{0});
#122=IFCMATERIALLAYERSET((#123,#124,#125),'Outer wall');
#123=IFCMATERIALLAYER(#126,{0.1},$);
#124=IFCMATERIALLAYER(#127,{0.05},$);
#125=IFCMATERIALLAYER(#128,{0.15},$);
#126=IFCMATERIAL('Klinker');
#127=IFCMATERIAL('Mineral wool');
#128=IFCMATERIAL('Concrete block');
#130=IFCRELVOIDSELEMENT('v',$,$,$,#100,#131);
#131=IFCOPENINGELEMENT('o',$,'Door hole',$,$,#132,#135,$);
#132=IFCLOCALPLACEMENT(#101,#133);
#133=IFCAXIS2PLACEMENT3D(#134,$,$);
#134=IFCCARTESIANPOINT(({1},{0},{0}));
#135=IFCPRODUCTDEFINITIONSHAPE($,$,(#136));
#136=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#137));
#137=IFCEXTRUDEDAREASOLID(#138,#12,#14,{2.1});
#138=IFCRECTANGLEPROFILEDEF(.AREA.,$,#139,{0.9},{0.4});
#139=IFCAXIS2PLACEMENT2D(#140,$);
#140=IFCCARTESIANPOINT(({0.45},{0.15}));
#141=IFCRELFILLSELEMENT('f',$,$,$,#131,#142);
#142=IFCDOOR('d',$,'Front door',$,$,#143,$,$,{2.1},{0.9});
#143=IFCLOCALPLACEMENT(#132,#12);
#144=IFCRELDEFINESBYTYPE('t',$,$,$,(#142),#145);
#145=IFCDOORSTYLE('y',$,'Leaf',$,$,$,$,$,.SINGLE_SWING_LEFT.,.WOOD.,.F.,.F.);
#150=IFCRELVOIDSELEMENT('v',$,$,$,#100,#151);
#151=IFCOPENINGELEMENT('o',$,'Hatch',$,$,#152,#155,$);
#152=IFCLOCALPLACEMENT(#101,#153);
#153=IFCAXIS2PLACEMENT3D(#154,$,$);
#154=IFCCARTESIANPOINT(({3},{0},{0.9}));
#155=IFCPRODUCTDEFINITIONSHAPE($,$,(#156));
#156=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#157));
#157=IFCEXTRUDEDAREASOLID(#158,#12,#14,{1.2});
#158=IFCRECTANGLEPROFILEDEF(.AREA.,$,#159,{1},{0.4});
#159=IFCAXIS2PLACEMENT2D(#160,$);
#160=IFCCARTESIANPOINT(({0.5},{0.15}));
#200=IFCWALL('w',$,'Clipped wall',$,$,#201,#205,$);
#201=IFCLOCALPLACEMENT(#22,#202);
#202=IFCAXIS2PLACEMENT3D(#203,#14,#204);
#203=IFCCARTESIANPOINT(({2.1},{1.3},{0}));
#204=IFCDIRECTION((0.,1.,0.));
#205=IFCPRODUCTDEFINITIONSHAPE($,$,(#206));
#206=IFCSHAPEREPRESENTATION(#5,'Body','Clipping',(#207));
#207=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#208,#220);
#208=IFCEXTRUDEDAREASOLID(#209,#12,#14,{3});
#209=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#210);
#210=IFCPOLYLINE((#211,#212,#213,#214,#211));
#211=IFCCARTESIANPOINT(({0},{-0.1}));
#212=IFCCARTESIANPOINT(({4},{-0.1}));
#213=IFCCARTESIANPOINT(({4},{0.1}));
#214=IFCCARTESIANPOINT(({0},{0.1}));
#220=IFCHALFSPACESOLID($,.F.);
#300=IFCSPACE('x',$,'1',$,$,#22,#301,'K\\X2\\00FC\\X0\\che',.ELEMENT.,.INTERNAL.,$);
#301=IFCPRODUCTDEFINITIONSHAPE($,$,(#302));
#302=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#303));
#303=IFCEXTRUDEDAREASOLID(#304,#12,#14,{2.4});
#304=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#305);
#305=IFCPOLYLINE((#306,#307,#308,#309,#306));
#306=IFCCARTESIANPOINT(({2.2},{1.3}));
#307=IFCCARTESIANPOINT(({7},{1.3}));
#308=IFCCARTESIANPOINT(({7},{5.3}));
#309=IFCCARTESIANPOINT(({2.2},{5.3}));
";
    let mut written = String::from(unit);
    for part in records.split('{') {
        match part.split_once('}') {
            Some((metres, rest)) => {
                let metres: f64 = metres.parse().unwrap();
                written.push_str(&format!("{:?}{rest}", metres * per_metre));
            }
            None => written.push_str(part),
        }
    }
    written
}

fn read(text: &str) -> Building {
    read_ifc(text.as_bytes(), &|_| true).unwrap()
}

fn near(point: Point, x: f64, y: f64) -> bool {
    (point - Point::new(x, y)).hypot() < 1e-3
}

fn noted(building: &Building, words: &str) -> usize {
    let notes = building.not_understood.iter().chain(&building.left_out);
    notes.filter(|note| note.what.contains(words)).map(|note| note.count).sum()
}

fn measures(hole: &ProposedOpening) -> [f64; 4] {
    let height = |length: Option<Length>| length.unwrap().as_mm();
    [hole.centre.as_mm(), hole.width.as_mm(), height(hole.sill), height(hole.head)]
        .map(|figure| (figure * 1e4).round() / 1e4)
}

#[test]
fn the_small_house_is_the_same_in_every_schema_and_unit() {
    for (schema, unit) in [("IFC2X3", METRES), ("IFC4", MILLIMETRES), ("IFC4X3_ADD2", FEET), ("IFC4", FEET)] {
        let building = read(&file(schema, &small_house(unit)));
        assert_eq!(building.schema, schema);
        assert_eq!(
            (building.project.as_deref(), building.site.as_deref()),
            (Some("House"), Some("The meadow"))
        );
        // North is given in the file's world, where the house is turned by 30 degrees.
        assert!((building.north.unwrap().as_degrees() - 90.0).abs() < 1e-6);
        let [storey] = building.storeys.as_slice() else { panic!("{:?}", building.storeys) };
        assert_eq!(storey.name, "Ground floor");
        assert!((storey.floor_above_datum.as_mm() - 500.0).abs() < 1e-6);
        assert!((storey.ceiling.unwrap().as_mm() - 2400.0).abs() < 1e-6 && storey.height_to_next.is_none());
        let [south, clipped] = storey.proposal.walls.as_slice() else { panic!("{:?}", storey.proposal) };
        assert!(near(south.start, 2000.0, 1150.0) && near(south.end, 7000.0, 1150.0), "{south:?}");
        assert!((south.thickness.as_mm() - 300.0).abs() < 1e-6);
        assert!((south.height.unwrap().as_mm() - 2600.0).abs() < 1e-6);
        assert_eq!((south.make_up, clipped.make_up), (Some(MakeUp::Block), None));
        let ends = [clipped.start, clipped.end];
        assert!(ends.iter().any(|end| near(*end, 2100.0, 1300.0)), "{clipped:?}");
        assert!(ends.iter().any(|end| near(*end, 2100.0, 5300.0)), "{clipped:?}");
        assert!((clipped.thickness.as_mm() - 200.0).abs() < 1e-6);
        assert_eq!(noted(&building, "part cut off"), 1);
        assert_eq!(noted(&building, "IFCSLAB"), 1);
        let [door, hatch] = storey.proposal.openings.as_slice() else { panic!("{:?}", storey.proposal) };
        assert_eq!(measures(door), [1450.0, 900.0, 0.0, 2100.0]);
        assert_eq!(measures(hatch), [3500.0, 1000.0, 900.0, 2100.0]);
        let hung = ProposedDoor { hinge: Hand::Start, swing: Side::Left };
        assert_eq!((door.form, hatch.form), (ProposedForm::Door(Some(hung)), ProposedForm::Plain));
        let [room] = storey.proposal.rooms.as_slice() else { panic!("{:?}", storey.proposal) };
        assert_eq!((room.name.as_str(), room.room_use), ("Küche", Some(RoomUse::Kitchen)));
        assert_eq!(room.outline.len(), 4);
        assert!(room.outline.iter().any(|corner| near(*corner, 7000.0, 5300.0)), "{room:?}");
        assert!(near(room.seed, 4600.0, 3300.0) || (room.seed.y - 3300.0).abs() < 100.0);
    }
}

/// The small house in metres with some of its records written otherwise.
fn changed(changes: &[(&str, &str)]) -> Building {
    let mut records = small_house(METRES);
    for (from, to) in changes {
        assert!(records.contains(from), "{from}");
        records = records.replace(from, to);
    }
    read(&file("IFC4", &records))
}

#[test]
fn the_reference_line_may_run_anywhere() {
    for (usage, y) in [
        ("#121=IFCMATERIALLAYERSETUSAGE(#122,.AXIS2.,.NEGATIVE.,0.3);", 1150.0),
        // What the file says of the layers is wrong here: the body tells where they are.
        ("#121=IFCMATERIALLAYERSETUSAGE(#122,.AXIS2.,.NEGATIVE.,0.);", 1150.0),
        ("#121=IFCMATERIALLAYERSET((#123,#124,#125),'Outer wall');", 1150.0),
        ("#121=IFCMATERIAL('Brick');", 1150.0),
    ] {
        let building = changed(&[("#121=IFCMATERIALLAYERSETUSAGE(#122,.AXIS2.,.POSITIVE.,0.0);", usage)]);
        let wall = &building.storeys[0].proposal.walls[0];
        assert!(
            near(wall.start, 2000.0, y) && (wall.thickness.as_mm() - 300.0).abs() < 1e-6,
            "{usage} {wall:?}"
        );
    }
    // A joint has taken half of the body: the layers tell how thick the wall is.
    for usage in [".POSITIVE.,0.0);", ".NEGATIVE.,0.0);"] {
        let trimmed = changed(&[
            (".POSITIVE.,0.0);", usage),
            (
                "#112=IFCRECTANGLEPROFILEDEF(.AREA.,$,#113,5.0,0.3);",
                "#112=IFCRECTANGLEPROFILEDEF(.AREA.,$,#113,5.0,0.2);",
            ),
            ("#114=IFCCARTESIANPOINT((2.5,0.15));", "#114=IFCCARTESIANPOINT((2.5,0.1));"),
        ]);
        assert!(near(trimmed.storeys[0].proposal.walls[0].end, 7000.0, 1150.0), "{usage}");
    }
}

#[test]
fn curved_walls_become_chords_and_hold_their_holes() {
    let arc = "#106=IFCTRIMMEDCURVE(#170,(#107,IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(1.5707963267948966)),.T.,.PARAMETER.);
        #170=IFCCIRCLE(#171,5.0);#171=IFCAXIS2PLACEMENT2D(#107,$);";
    let building = changed(&[
        ("#106=IFCPOLYLINE((#107,#108));", arc),
        ("#111=IFCEXTRUDEDAREASOLID(#112,", "#111=IFCSOMETHINGELSE(#112,"),
        ("#134=IFCCARTESIANPOINT((1.0,0.0,0.0));", "#134=IFCCARTESIANPOINT((4.55,2.0,0.0));"),
        (
            "#138=IFCRECTANGLEPROFILEDEF(.AREA.,$,#139,0.9,0.4);",
            "#138=IFCRECTANGLEPROFILEDEF(.AREA.,$,#139,1.0,0.4);",
        ),
        ("#140=IFCCARTESIANPOINT((0.45,0.15));", "#140=IFCCARTESIANPOINT((0.,0.));"),
    ]);
    let walls = &building.storeys[0].proposal.walls;
    let chords = &walls[..walls.len() - 1];
    assert!((8..40).contains(&chords.len()), "{}", chords.len());
    for chord in chords {
        // The line of reference is the outer face; the layers lie to its left, towards the centre.
        let from_centre = (chord.start - Point::new(2000.0, 1000.0)).hypot();
        assert!((from_centre - 4850.0).abs() < 12.0, "{from_centre}");
    }
    assert!(near(walls[0].start, 6850.0, 1000.0), "{:?}", walls[0]);
    assert!(near(chords[chords.len() - 1].end, 2000.0, 5850.0), "{chords:?}");
    assert_eq!(building.storeys[0].proposal.openings.len(), 1);
    assert_eq!(noted(&building, "IFCSOMETHINGELSE"), 1);
    assert_eq!(noted(&building, "outside the wall"), 1);
}

#[test]
fn indexed_curves_and_surfaces_are_read() {
    let building = changed(&[
        (
            "#106=IFCPOLYLINE((#107,#108));",
            "#106=IFCINDEXEDPOLYCURVE(#172,(IFCLINEINDEX((1,2)),IFCLINEINDEX((2,3))),.F.);
             #172=IFCCARTESIANPOINTLIST2D(((0.,0.),(5.,0.),(5.,3.)));",
        ),
        (
            "#208=IFCEXTRUDEDAREASOLID(#209,#12,#14,3.0);",
            "#208=IFCTRIANGULATEDFACESET(#221,$,.T.,((1,2,3),(1,3,4),(5,6,7),(5,7,8)),$);
             #221=IFCCARTESIANPOINTLIST3D(((0.,-.1,0.),(4.,-.1,0.),(4.,.1,0.),(0.,.1,0.),\
             (0.,-.1,3.),(4.,-.1,3.),(4.,.1,3.),(0.,.1,3.)));",
        ),
        (
            "#303=IFCEXTRUDEDAREASOLID(#304,#12,#14,2.4);",
            "#303=IFCPOLYGONALFACESET(#310,$,(#311),$);#311=IFCINDEXEDPOLYGONALFACE((1,2,3,4));
             #310=IFCCARTESIANPOINTLIST3D(((2.2,1.3,0.),(7.,1.3,0.),(7.,5.3,0.),(2.2,5.3,0.)));",
        ),
    ]);
    let proposal = &building.storeys[0].proposal;
    assert_eq!(proposal.walls.len(), 3);
    assert!(near(proposal.walls[0].end, 6850.0, 1150.0) && near(proposal.walls[1].end, 6850.0, 4000.0));
    assert!((proposal.walls[2].thickness.as_mm() - 200.0).abs() < 1e-6);
    assert!((proposal.walls[2].height.unwrap().as_mm() - 3000.0).abs() < 1e-6);
    assert_eq!(proposal.rooms[0].outline.len(), 4);
}

#[test]
fn a_mapped_body_is_moved_turned_and_scaled() {
    let building = changed(&[(
        "#206=IFCSHAPEREPRESENTATION(#5,'Body','Clipping',(#207));",
        "#206=IFCSHAPEREPRESENTATION(#5,'Body','MappedRepresentation',(#230));
         #230=IFCMAPPEDITEM(#231,#232);#231=IFCREPRESENTATIONMAP(#12,#233);
         #232=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#10,0.5,$);
         #233=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#208));",
    )]);
    let wall = &building.storeys[0].proposal.walls[1];
    assert!((wall.thickness.as_mm() - 100.0).abs() < 1e-6 && (wall.length().as_mm() - 2000.0).abs() < 1e-6);
}

#[test]
fn a_door_without_a_hole_body_is_as_large_as_it_says() {
    let building = changed(&[("#137=IFCEXTRUDEDAREASOLID(", "#137=IFCSWEPTDISKSOLID(")]);
    assert_eq!(measures(&building.storeys[0].proposal.openings[0]), [1450.0, 900.0, 0.0, 2100.0]);
    assert_eq!(noted(&building, "IFCSWEPTDISKSOLID"), 1);
}

#[test]
fn doors_are_hung_as_their_placement_stands() {
    let turned = "#143=IFCLOCALPLACEMENT(#132,#173);#173=IFCAXIS2PLACEMENT3D(#10,$,#174);#174=IFCDIRECTION((-1.,0.,0.));";
    let placed = "#143=IFCLOCALPLACEMENT(#132,#12);";
    let right = ".SINGLE_SWING_RIGHT.";
    for (placement, operation, expected) in [
        (placed, ".SINGLE_SWING_LEFT.", Some((Hand::Start, Side::Left))),
        (placed, right, Some((Hand::End, Side::Left))),
        (turned, ".SINGLE_SWING_LEFT.", Some((Hand::End, Side::Right))),
        (turned, right, Some((Hand::Start, Side::Right))),
        (placed, ".SLIDING_TO_LEFT.", None),
    ] {
        let building = changed(&[(placed, placement), (".SINGLE_SWING_LEFT.", operation)]);
        let hung = expected.map(|(hinge, swing)| ProposedDoor { hinge, swing });
        assert_eq!(building.storeys[0].proposal.openings[0].form, ProposedForm::Door(hung), "{operation}");
    }
}

#[test]
fn what_cannot_be_placed_is_listed() {
    // The wall stands on its own opening, which stands on the wall.
    let circle = changed(&[("#101=IFCLOCALPLACEMENT(#22,#102);", "#101=IFCLOCALPLACEMENT(#132,#102);")]);
    assert_eq!(circle.storeys[0].proposal.walls.len(), 1);
    assert!(noted(&circle, "circle") >= 1 && noted(&circle, "stand nowhere") == 1);
    assert_eq!(noted(&circle, "holes in walls that were not understood"), 2);
    let loose = changed(&[("#141=IFCRELFILLSELEMENT('f',$,$,$,#131,#142);", "")]);
    assert_eq!((noted(&loose, "doors in no wall"), loose.storeys[0].proposal.openings.len()), (1, 2));
    let bare = changed(&[(
        "#200=IFCWALL('w',$,'Clipped wall',$,$,#201,#205,$);",
        "#200=IFCWALL('w',$,'Bare',$,$,#201,$,$);",
    )]);
    let note =
        bare.not_understood.iter().find(|note| note.what.contains("without an axis and a body")).unwrap();
    assert_eq!((note.count, note.example.as_str()), (1, "#200 IFCWALL “Bare”"));
    let on_grid = changed(&[("#201=IFCLOCALPLACEMENT(#22,#202);", "#201=IFCGRIDPLACEMENT(#22,#202);")]);
    assert_eq!(noted(&on_grid, "IFCGRIDPLACEMENT"), 1);
}

#[test]
fn holes_to_the_top_and_past_the_end_are_kept_and_listed() {
    let building = changed(&[
        ("#137=IFCEXTRUDEDAREASOLID(#138,#12,#14,2.1);", "#137=IFCEXTRUDEDAREASOLID(#138,#12,#14,2.8);"),
        ("#154=IFCCARTESIANPOINT((3.0,0.0,0.9));", "#154=IFCCARTESIANPOINT((4.5,0.0,0.9));"),
    ]);
    let openings = &building.storeys[0].proposal.openings;
    assert_eq!(measures(&openings[0]), [1450.0, 900.0, 0.0, 2600.0]);
    assert_eq!(measures(&openings[1]), [4750.0, 500.0, 900.0, 2100.0]);
    assert_eq!((noted(&building, "as high as their wall"), noted(&building, "past the end")), (1, 1));
}

#[test]
fn a_wall_through_two_storeys_is_shown_on_both() {
    let upper = "#27=IFCBUILDINGSTOREY('u',$,'Upper floor',$,$,#28,$,$,.ELEMENT.,3.3);
        #28=IFCLOCALPLACEMENT(#18,#29);#29=IFCAXIS2PLACEMENT3D(#31,$,$);#31=IFCCARTESIANPOINT((0.,0.,3.3));
        #24=IFCRELAGGREGATES('r',$,$,$,#19,(#23,#27));#32=IFCRELCONTAINEDINSPATIALSTRUCTURE('r',$,$,$,(#33),#27);
        #33=IFCDOOR('d',$,'Loft door',$,$,#28,$,$,2.,.8);";
    let building = changed(&[
        ("#24=IFCRELAGGREGATES('r',$,$,$,#19,(#23));", upper),
        ("#111=IFCEXTRUDEDAREASOLID(#112,#12,#14,2.6);", "#111=IFCEXTRUDEDAREASOLID(#112,#12,#14,5.4);"),
        ("#154=IFCCARTESIANPOINT((3.0,0.0,0.9));", "#154=IFCCARTESIANPOINT((3.0,0.0,3.7));"),
    ]);
    let [ground, above] = building.storeys.as_slice() else { panic!("{:?}", building.storeys) };
    assert!((ground.height_to_next.unwrap().as_mm() - 2800.0).abs() < 1e-6);
    assert_eq!((ground.proposal.walls.len(), above.proposal.walls.len()), (2, 1));
    assert!((above.proposal.walls[0].height.unwrap().as_mm() - 2600.0).abs() < 1e-6);
    let [hatch] = above.proposal.openings.as_slice() else { panic!("{:?}", above.proposal) };
    assert_eq!(measures(hatch), [3500.0, 1000.0, 900.0, 2100.0]);
    assert_eq!(noted(&building, "rise through several storeys"), 1);
}

#[test]
fn a_glazed_wall_is_as_large_as_its_parts() {
    let building = changed(&[(
        "#200=IFCWALL('w',$,'Clipped wall',$,$,#201,#205,$);",
        "#200=IFCCURTAINWALL('w',$,'Glass front',$,$,#201,$,$);
          #34=IFCRELAGGREGATES('r',$,$,$,#200,(#35,#36));#35=IFCPLATE('a',$,'Pane',$,$,#201,#205,$);
          #36=IFCDOOR('a',$,'Glass door',$,$,#201,$,$,2.,1.);",
    )]);
    let proposal = &building.storeys[0].proposal;
    assert_eq!(proposal.walls[1].make_up, Some(MakeUp::Glazed));
    assert!((proposal.walls[1].length().as_mm() - 4000.0).abs() < 1e-6);
    let door = proposal.openings.iter().find(|opening| opening.wall == 1).unwrap();
    assert!((door.width.as_mm() - 1000.0).abs() < 1e-6 && door.form == ProposedForm::Door(None));
}

#[test]
fn a_house_on_a_surveyors_grid_is_brought_to_the_origin() {
    let building = changed(&[(
        "#20=IFCCARTESIANPOINT((0.0,0.0,0.5));",
        "#20=IFCCARTESIANPOINT((482000.,5470000.,0.5));",
    )]);
    let by = building.moved_by.unwrap();
    let wall = &building.storeys[0].proposal.walls[0];
    assert!(wall.start.to_vec2().hypot() < 20_000.0);
    assert!(near(wall.start - by, 482_002_000.0, 5_470_001_150.0));
    assert!((building.storeys[0].proposal.rooms[0].seed - wall.start).hypot() < 10_000.0);
}

#[test]
fn files_that_do_not_do_are_refused_in_one_sentence() {
    let whole = file("IFC4", &small_house(METRES));
    let cut = &whole[..whole.len() / 2];
    let refused = |bytes: &[u8]| read_ifc(bytes, &|_| true).unwrap_err();
    assert!(
        matches!(refused(cut.as_bytes()), IfcError::CutShort { line } if line > 50),
        "{:?}",
        refused(cut.as_bytes())
    );
    assert_eq!(refused(b"\x89PNG\r\n\x1a\n"), IfcError::NotIfc);
    assert_eq!(refused(b""), IfcError::NotIfc);
    let other = file("AUTOMOTIVE_DESIGN", &small_house(METRES));
    assert_eq!(refused(other.as_bytes()), IfcError::OtherSchema("AUTOMOTIVE_DESIGN".to_owned()));
    assert_eq!(refused(file("IFC4", "").as_bytes()), IfcError::Empty);
    assert_eq!(read_ifc(whole.as_bytes(), &|_| false).map(|_| ()), Ok(()), "too small to be asked");
    assert!(
        looks_like_ifc(whole.as_bytes()) && looks_like_ifc(b"\xEF\xBB\xBF /* by hand */\r\n ISO-10303-21;")
    );
    assert!(!looks_like_ifc(b"%PDF-1.7") && !looks_like_ifc(b""));
}

#[test]
fn reading_stops_when_asked() {
    let walls: String =
        (1000..1100).map(|n| format!("#{n}=IFCWALL('w',$,'Copy',$,$,#201,#205,$);\n")).collect();
    let text = file("IFC4", &(small_house(METRES) + &walls));
    assert_eq!(read_ifc(text.as_bytes(), &|_| false), Err(IfcError::Stopped));
}

/// Two level faces of a box of 4 × 0.2 × 3 m whose corners are records 500 to 507, as loops of those corners.
fn box_corners() -> String {
    let corners = [(0.0, -0.1), (4.0, -0.1), (4.0, 0.1), (0.0, 0.1)];
    let at = |index: usize| (corners[index % 4], if index < 4 { 0.0 } else { 3.0 });
    let corner = |index: usize| {
        let ((x, y), z) = at(index);
        format!("#{}=IFCCARTESIANPOINT(({x:?},{y:?},{z:?}));", 500 + index)
    };
    (0..8).map(corner).collect()
}

#[test]
fn bodies_made_of_faces_are_read() {
    let body = "#208=IFCEXTRUDEDAREASOLID(#209,#12,#14,3.0);";
    let faces =
        "#510=IFCFACE((#511));#511=IFCFACEOUTERBOUND(#512,.T.);#512=IFCPOLYLOOP((#500,#501,#502,#503));
        #513=IFCFACE((#514));#514=IFCFACEOUTERBOUND(#515,.T.);#515=IFCPOLYLOOP((#504,#505,#506,#507));";
    let edges: String = (0..8)
        .map(|index: usize| {
            let next = 540 + index / 4 * 4 + (index + 1) % 4;
            format!(
                "#{}=IFCVERTEXPOINT(#{});#{}=IFCEDGECURVE(#{},#{next},$,.T.);#{}=IFCORIENTEDEDGE(*,*,#{},.T.);",
                540 + index,
                500 + index,
                550 + index,
                540 + index,
                560 + index,
                550 + index
            )
        })
        .collect();
    let advanced = format!(
        "{edges}#510=IFCADVANCEDFACE((#511),$,.T.);#511=IFCFACEOUTERBOUND(#512,.T.);
         #512=IFCEDGELOOP((#560,#561,#562,#563));#513=IFCADVANCEDFACE((#514),$,.T.);
         #514=IFCFACEOUTERBOUND(#515,.T.);#515=IFCEDGELOOP((#564,#565,#566,#567));"
    );
    for (solid, faces) in [
        ("#208=IFCFACETEDBREP(#520);#520=IFCCLOSEDSHELL((#510,#513));", faces),
        ("#208=IFCADVANCEDBREP(#520);#520=IFCCLOSEDSHELL((#510,#513));", advanced.as_str()),
        ("#208=IFCFACEBASEDSURFACEMODEL((#520));#520=IFCCONNECTEDFACESET((#510,#513));", faces),
    ] {
        let building = changed(&[(body, &format!("{solid}{faces}{}", box_corners()))]);
        let wall = &building.storeys[0].proposal.walls[1];
        assert!((wall.thickness.as_mm() - 200.0).abs() < 1e-6, "{solid} {wall:?}");
        assert!(
            (wall.length().as_mm() - 4000.0).abs() < 1e-6
                && (wall.height.unwrap().as_mm() - 3000.0).abs() < 1e-6
        );
    }
}

#[test]
fn a_wall_of_parts_is_as_large_as_they_are_together() {
    let building = changed(&[(
        "#200=IFCWALL('w',$,'Clipped wall',$,$,#201,#205,$);",
        "#200=IFCWALLELEMENTEDCASE('w',$,'Stud wall',$,$,#201,$,$);#34=IFCRELAGGREGATES('r',$,$,$,#200,(#35,#36));
         #35=IFCBUILDINGELEMENTPART('a',$,'Boards',$,$,#201,#205,$);
         #36=IFCBUILDINGELEMENTPART('a',$,'Boards',$,$,#37,#205,$);#37=IFCLOCALPLACEMENT(#201,#38);
         #38=IFCAXIS2PLACEMENT3D(#39,$,$);#39=IFCCARTESIANPOINT((0.,0.2,0.));",
    )]);
    let wall = &building.storeys[0].proposal.walls[1];
    assert!((wall.thickness.as_mm() - 400.0).abs() < 1e-6 && (wall.length().as_mm() - 4000.0).abs() < 1e-6);
}

#[test]
fn a_room_keeps_its_outline_in_whatever_form_it_comes() {
    let body = "#302=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#303));";
    let footprint = "#302=IFCSHAPEREPRESENTATION(#5,'FootPrint','GeometricCurveSet',(#320));#320=IFCGEOMETRICCURVESET((#305));";
    // Lying on its side: the profile stands upright and is drawn out along the room.
    let lying = "#302=IFCSHAPEREPRESENTATION(#5,'Body','SweptSolid',(#321));
        #321=IFCEXTRUDEDAREASOLID(#322,#323,#14,4.8);#322=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4.,2.4);
        #323=IFCAXIS2PLACEMENT3D(#324,#325,#326);#324=IFCCARTESIANPOINT((2.2,3.3,1.2));
        #325=IFCDIRECTION((1.,0.,0.));#326=IFCDIRECTION((0.,1.,0.));";
    for form in [footprint, lying] {
        let building = changed(&[(body, form)]);
        let room = &building.storeys[0].proposal.rooms[0];
        let area = crate::geometry::Ring::new(room.outline.clone()).area();
        assert!((area - 4800.0 * 4000.0).abs() < 100.0 && room.outline.len() == 4, "{form} {room:?}");
    }
}
