//! F026 to F026: what stands beside a stain: other substances, blanks, duplicates.

super::family! {
    "Field work: what stands beside a stain"

    INTERFERENT_MISSPELT "F026" "interferent-misspelt" Warning Qualified
        what "A substance is told to be present under a name that is one letter away from one on the sheet of the tube."
        why "Only a substance that the sheet names changes a reading; under another name its interference is lost, and the reading is taken as it stands."
        example "study.yaml     interferes: [{agent: amines, reads: higher, per_ppm: 1.0}]\nreadings.csv   present: amine=2 ppm"
        remedy "Write the substance as the sheet does. Where another one is meant, as ethanol beside methanol, have this finding ignored by a `field_rules` entry that says so. Capitals make no difference; formulas and names of less than four letters are not compared, and a substance that is an agent or stands on another sheet of the study is known under its own name."
        source "Our own rule: nothing is ignored silently.";
}
