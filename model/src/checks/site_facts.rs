//! What the title block lacks: it is printed as missing until it is filled in.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check { name: "site-facts", limits: &[], run };

/// Which of the fields must be there is recalled, not read.
const SOURCE: &str = "ISO 7200, data fields of title blocks; from memory";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let site = &house.project.site;
    for (value, what) in [
        (&site.issue_date, "date of issue"),
        (&site.client, "client"),
        (&site.legal_owner, "legal owner"),
        (&site.creator, "creator"),
        (&site.approver, "approval person"),
    ] {
        if value.trim().is_empty() {
            let sentence = format!("The title block has no {what}: fill it in before issue.");
            found.push(house.of_subject(Subject::Site, Severity::Note, CHECK.name, sentence, SOURCE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::edit::{Change, History};
    use crate::project::{Project, Site};

    #[test]
    fn each_empty_field_is_noted_until_it_is_filled() {
        let mut project = Project::new();
        assert_eq!(found(CHECK, &project).len(), 5);
        let site =
            Site { client: "A. Invented".to_owned(), issue_date: "2026-01-31".to_owned(), ..Site::default() };
        History::default().apply(&mut project, Change::of_site("Fill in", site)).unwrap();
        let lacking: Vec<String> =
            found(CHECK, &project).into_iter().map(|finding| finding.sentence).collect();
        assert_eq!(lacking.len(), 3);
        assert!(lacking.iter().all(|sentence| !sentence.contains("client")));
    }
}
