//! F001 to F005: how one tube was drawn and read.

super::family! {
    "Field work: tubes and readings"

    STROKES_NOT_ON_SHEET "F001" "strokes-not-on-sheet" Warning Qualified
        what "A tube was drawn with a number of strokes that its sheet does not list."
        why "The scale holds for the stroke numbers printed on the tube sheet; another number is scaled in proportion, which the sheet does not promise."
        example "study.yaml     strokes: 1, other_strokes: [{strokes: 2, factor: 0.5}]\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,3,12"
        remedy "Draw the strokes that the sheet lists. Where the sheet does list this number, add it with its factor under `other_strokes`."
        source "The tube sheet; scaling in proportion is common practice, no source.";
    CONDITIONS_OUTSIDE_SHEET "F002" "conditions-outside-sheet" Warning Qualified
        what "The temperature or humidity lies outside the range for which the tube sheet gives factors."
        why "Outside the sheet's range no correction is known; the factor of the nearest printed point is used and nothing is extrapolated."
        example "study.yaml     temperature: {0 C: 1.2, 20 C: 1.0, 40 C: 0.9}\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12,46 C"
        remedy "Look for a sheet that covers these conditions, warm or cool the tube before drawing it, or say in the note why the nearest factor is good enough."
        source "The tube sheet; never extrapolating is common practice, no source.";
    INTERFERENT_PRESENT "F003" "interferent-present" Warning Qualified
        what "Another substance was present that this tube also shows, or that hides the one it is meant for."
        why "A tube that reads higher by another substance shows at most the true value, one that reads lower shows at least it; how far off depends on how much was there. The reading becomes a range and is never silently corrected."
        example "study.yaml     interferes: [{agent: amines, reads: higher, per_ppm: 1.0}]\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12,amines=3 ppm"
        remedy "Measure the other substance and write its amount beside the reading, as amines=3 ppm, or use a tube that does not show it. Without an amount the range is open to one side."
        source "The tube sheet, cross-sensitivities.";
    NO_RELATIVE_SD "F004" "no-relative-sd" Note Undecidable
        what "The tube sheet gives no relative standard deviation, so 14 % is taken."
        why "The scatter of a tube's own reading is needed where one reading stands alone; without the sheet's figure the value for detector tubes of the sampling strategy manual stands in."
        example "study.yaml     NH3-M: {agent: ammonia, marks: [5, 10, 20], unit: ppm, strokes: 1}"
        remedy "Add `relative_sd` from the tube sheet, as relative_sd: 10 %."
        source "NIOSH-77-173, coefficients of variation of detector tubes (recalled).";
    CONDITIONS_MISSING "F005" "conditions-missing" Warning Qualified
        what "The tube sheet corrects for a condition that was not written down."
        why "Without the condition no correction is made, and the reading is off by an unknown factor."
        example "study.yaml     temperature: {0 C: 1.2, 20 C: 1.0, 40 C: 0.9}\nreadings.csv   id,worker,task,tube,pump,start,strokes,reading   (no temperature)"
        remedy "Write the condition beside each reading. Where it was measured once a day, repeat it in every row."
        source "The tube sheet, corrections.";
}
