//! F001 to F011: how one tube was drawn and read.

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
        why "A tube that reads higher by another substance shows the true value or more, one that reads lower shows it or less; how far off depends on how much was there. The reading becomes a range and is never silently corrected."
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
    PRE_TUBE_MISSING "F006" "pre-tube-missing" Warning Qualified
        what "The tube sheet asks for a pre-tube, and the reading does not say that this one was used."
        why "A pre-tube dries the air, takes out another substance or turns the one looked for into what the tube can show; without it the stain means something else."
        example "study.yaml     pre_tube: drying tube\nreadings.csv   the cell `pre_tube` is empty"
        remedy "Write the name of the pre-tube, or yes, beside each reading where it was used; otherwise draw the tubes again with it."
        source "The tube sheet.";
    COLOUR_OFF "F007" "colour-off" Warning Qualified
        what "The colour seen is not the one that the tube sheet promises."
        why "Another colour is the usual sign of another substance in the air, of a tube past its life, or of the wrong tube."
        example "study.yaml     colour: yellow to blue\nreadings.csv   colour: brown"
        remedy "Do not read a stain of another colour as a concentration: find out what caused it, declare the substance as `present`, or reject the reading. Shades of the right colour, as pale blue, and the words yes and ok count as right."
        source "The tube sheet; common practice, no source.";
    DRAWN_TOO_FAST "F008" "drawn-too-fast" Warning Qualified
        what "A pump began its next tube before the strokes of this one can have been drawn."
        why "A stroke takes its time: the sheet says how long until the air has passed through the tube. Pulled faster, the stain is too short or blurred; or one of the two times is wrong."
        example "study.yaml     strokes: 4, stroke_time: 1 min\nreadings.csv   R7,W2,turning,NH3-L,P1,2027-03-09 08:10,4,3\n               R8,W2,turning,NH3-L,P1,2027-03-09 08:12,4,5"
        remedy "Correct the times, the pump or the strokes if one of them is a slip of the pen. If the tube really was hurried, leave the rule as it is or reject the reading."
        source "The tube sheet, time of a stroke; ASTM D4490 (recalled).";
    READ_TOO_LATE "F009" "read-too-late" Warning Qualified
        what "The stain was read later than the tube sheet allows."
        why "A stain creeps on, fades or changes its colour after the air has stopped; the scale holds for the time on the sheet."
        example "study.yaml     read_within: 5 min\nreadings.csv   read_after: 25 min"
        remedy "Read tubes at once. A stain read too late stays doubtful, whatever was done with it afterwards."
        source "The tube sheet; common practice, no source.";
    LOT_EXPIRED "F010" "lot-expired" Warning Qualified
        what "The tube was drawn after the expiry date of its lot."
        why "The reagent ages: an old tube reads too low, unevenly, or not at all."
        example "study.yaml     expires: {2611-M: 2027-02-28}\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12,2611-M"
        remedy "Draw the tubes again from a lot in date. Correct the date if it was copied wrongly from the box; the last day on the box still counts."
        source "The tube sheet and the box; common practice, no source.";
    LOT_UNKNOWN "F011" "lot-unknown" Note Noted
        what "The study gives expiry dates by lot, but not for the lot of this tube."
        why "Whether the tube was in date cannot be checked."
        example "study.yaml     expires: {2611-M: 2028-05-31}\nreadings.csv   lot: 2612-M, or empty"
        remedy "Write the lot beside each reading and its date under `expires`."
        source "Our own rule: what can be checked is checked.";
}
