//! Pages read by the program run as a child: what a greedy drawing costs is an answer in words, not the machine.

use std::path::Path;
use std::time::{Duration, Instant};

use pattress::survey::{self, Asked, Read, ReadError};

/// The program as it was built for this test.
fn program() -> &'static Path {
    Path::new(env!("CARGO_BIN_EXE_pattress"))
}

/// A PDF of these objects, the first of which is its catalogue. Readers find objects that no table lists.
fn pdf(objects: &[String]) -> Vec<u8> {
    let mut text = "%PDF-1.7\n".to_owned();
    for (index, object) in objects.iter().enumerate() {
        text += &format!("{} 0 obj\n{object}\nendobj\n", index + 1);
    }
    text += "trailer << /Root 1 0 R >>\n%%EOF\n";
    text.into_bytes()
}

fn stream(entries: &str, content: &str) -> String {
    format!("<< {entries} /Length {} >>\nstream\n{content}\nendstream", content.len())
}

/// A page of 420 by 297 mm.
fn page(content: &str, resources: &str) -> Vec<String> {
    vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
        format!(
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 1190.551 841.89] /Contents 4 0 R /Resources << {resources} >> >>"
        ),
        stream("", content),
    ]
}

fn read(bytes: Vec<u8>) -> (Result<Read, ReadError>, Duration) {
    let begun = Instant::now();
    let read = survey::read_by(Some(program()), "plan.pdf", bytes, &Asked::default(), &|_| true);
    (read, begun.elapsed())
}

fn sentence(outcome: Result<Read, ReadError>) -> String {
    outcome.expect_err("it was read").to_string()
}

#[test]
fn a_page_comes_back_as_it_would_be_read_here() {
    let content = "0.5 w 100 100 m 400 100 l S 1 g 10 10 50 50 re f BT /F 12 Tf 100 200 Td (Kitchen) Tj ET";
    let font = "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>";
    let bytes = pdf(&page(content, font));
    let (apart, _) = read(bytes.clone());
    let here = survey::read_by(None, "plan.pdf", bytes, &Asked::default(), &|_| true);
    assert_eq!(apart, here);
    let Ok(Read::Page(read)) = apart else { panic!("{apart:?}") };
    assert_eq!((read.page.strokes.len(), read.page.fills.len()), (1, 1));
    assert_eq!(read.page.writings[0].text, "Kitchen");
}

#[test]
fn a_page_that_asks_for_all_memory_is_refused_in_words() {
    // A scan with a line over it whose dashes are a hundred thousandth of a point: painted, it takes gigabytes.
    let image = stream(
        "/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceGray /BitsPerComponent 1",
        "12345678",
    );
    let content = "q 1190 0 0 841 0 0 cm /I Do Q [0.00001 0.00001] 0 d 0 0 m 1190 841 l S";
    let mut objects = page(content, "/XObject << /I 5 0 R >>");
    objects.push(image);
    let (outcome, taken) = read(pdf(&objects));
    let said = sentence(outcome);
    // Where the machine is busy its time may be up before its memory is.
    let refused = said.contains("takes more memory") || said.contains("takes longer than");
    assert!(said.contains("“plan.pdf”") && refused, "{said}");
    assert!(taken < Duration::from_secs(5), "{taken:?}");
}

#[test]
fn a_page_that_would_take_for_ever_is_ended() {
    // Forms that each draw the next one ten times over.
    let mut objects = page("/X Do", "/XObject << /X 5 0 R >>");
    for next in 6..26 {
        let entries = format!(
            "/Type /XObject /Subtype /Form /BBox [0 0 900 900] /Resources << /XObject << /X {next} 0 R >> >>"
        );
        objects.push(stream(&entries, &"/X Do ".repeat(10)));
    }
    objects.push(stream("/Type /XObject /Subtype /Form /BBox [0 0 900 900]", "0 0 m 9 9 l S"));
    let (outcome, taken) = read(pdf(&objects));
    let said = sentence(outcome);
    assert!(said.contains("takes longer than") || said.contains("holds more than"), "{said}");
    assert!(taken < Duration::from_secs(5), "{taken:?}");
}

#[test]
fn a_drawing_that_nobody_waits_for_is_ended() {
    let bytes = pdf(&page("0 0 m 9 9 l S", ""));
    let outcome = survey::read_by(Some(program()), "plan.pdf", bytes, &Asked::default(), &|_| false);
    // It may have been quicker than whoever changed their mind.
    assert!(matches!(outcome, Err(ReadError::Stopped { .. }) | Ok(Read::Page(_))), "{outcome:?}");
}

#[test]
fn a_program_that_is_not_there_is_told_in_words() {
    let bytes = pdf(&page("0 0 m 9 9 l S", ""));
    let nowhere = Path::new("no-such-program");
    let outcome = survey::read_by(Some(nowhere), "plan.pdf", bytes, &Asked::default(), &|_| true);
    assert!(sentence(outcome).contains("can't be started"));
}
