//! Writes the sample plans and their figures, and the schema of their format, from the code: `cargo run -p pattress-tests --bin
//! write-samples`.

use pattress::files;
use pattress_model::store::{Media, plan_schema};
use pattress_tests::{figures, samples};

fn main() -> Result<(), files::FileError> {
    for sample in samples::SAMPLES {
        let folder = samples::folder().join(sample.name);
        let project = (sample.build)();
        files::save(&folder, &project, &Media::default())?;
        files::write_bytes(&folder.join("figures.json"), figures::figures_text(&project).as_bytes())?;
        println!("{}: {} devices, {} rules", sample.name, project.devices.len(), project.rules.len());
    }
    files::write_bytes(
        &samples::folder().join("../model/src/store/plan.schema.json"),
        plan_schema().as_bytes(),
    )?;
    Ok(())
}
