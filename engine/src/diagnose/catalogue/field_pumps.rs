//! F012 to F018: the pumps and their leak checks.

super::family! {
    "Field work: pumps and leak checks"

    LEAK_CHECK_MISSING "F012" "leak-check-missing" Warning Qualified
        what "A pump drew tubes without ever having been tested for leaks before."
        why "A leaking pump draws too little air and the tube reads low, whatever else was done well."
        example "readings.csv      R17,W3,screening,NH3-M,P2,2027-03-09 06:57,1,6\nleak_checks.csv   has no row of P2 before that"
        remedy "Add the check to the leak-check table if it was done. Otherwise test the pump with an unopened tube each day before use: the plunger or bellows must stay drawn for the time that its instructions say."
        source "OSHA Technical Manual, section II, chapter 3, and ASTM D4490: a record of the check before each day of use (recalled).";
    LEAK_CHECK_FAILED "F013" "leak-check-failed" Warning Qualified
        what "A pump drew tubes although its last leak check had failed."
        why "A leaking pump draws too little air and the tube reads low."
        example "leak_checks.csv   P1,NH3-M,2027-03-09 05:50,no\nreadings.csv      R1,W1,turning,NH3-M,P1,2027-03-09 08:00,1,12"
        remedy "Mend the pump, test it again, and draw the tubes again. If it was mended before the readings, add the check that it passed then."
        source "OSHA Technical Manual, section II, chapter 3, and ASTM D4490 (recalled).";
    LEAK_CHECK_STALE "F014" "leak-check-stale" Warning Qualified
        what "The last leak check of the pump is older than the day on which it drew the tubes."
        why "Seals and valves give way from one day to the next, above all where the pump lay in the cold or fell down; a check speaks for its own day. In a night shift the check of the evening before counts for 12 hours."
        example "leak_checks.csv   P1,NH3-M,2027-03-08 05:50,yes\nreadings.csv      R1,W1,turning,NH3-M,P1,2027-03-09 08:00,1,12"
        remedy "Test each pump each day before use. If it was done, add the row."
        source "OSHA Technical Manual, section II, chapter 3, and ASTM D4490: before each day of use (recalled); the 12 hours of a night are our own rule.";
    LEAK_CHECK_NOT_REPEATED "F015" "leak-check-not-repeated" Warning Qualified
        what "The pump was tested that day, but not with a tube of the type and diameter that it then drew."
        why "The seal holds one tube and may leak at another: a thinner tube, or one whose end is shaped otherwise, sits differently in the inlet."
        example "leak_checks.csv   P1,NH3-M,2027-03-09 05:50,yes\nreadings.csv      R1,W1,turning,NH3-L,P1,2027-03-09 08:00,4,3"
        remedy "Test the pump once a day with each type of tube that it is going to draw."
        source "Common practice, no source.";
    STROKE_VOLUME_MISMATCH "F016" "stroke-volume-mismatch" Warning Qualified
        what "The stroke of the pump has another volume than the one for which the tube's scale is printed."
        why "The stain grows with the volume drawn: a tube made for 100 mL a stroke reads about half at 50 mL. No correction is made, since the sheet gives none."
        example "study.yaml   tubes: {NH3-M: {stroke_volume: 100 mL}}\n             pumps: {P1: {stroke_volume: 50 mL}}"
        remedy "Use the pump that belongs to the tube. If the volume was entered wrongly, correct it."
        source "The tube sheet; ASTM D4490: pump and tube belong together (recalled).";
    PUMP_IN_TWO_PLACES "F017" "pump-in-two-places" Warning Qualified
        what "One pump is said to have drawn two tubes at once, for two people or at two places."
        why "One of the two rows names the wrong pump, time or person, so it is not known whose exposure the reading shows."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12\n               R8,W5,screening,NH3-M,P1,2027-03-09 08:10,1,20"
        remedy "Look at the field notes and correct the pump, the time or the person of one of the two."
        source "Our own rule: a pump draws one tube at a time.";
    LEAK_CHECK_FAILED_AFTER "F018" "leak-check-failed-after" Warning Qualified
        what "A pump failed a leak check after it had drawn tubes, and passed none in between."
        why "Nobody knows since when it leaked: every tube that it drew since it last passed a check may have got too little air and read low."
        example "leak_checks.csv   P1,NH3-M,2027-03-09 05:50,yes\n                  P1,NH3-M,2027-03-09 14:10,no\nreadings.csv      R1,W1,turning,NH3-M,P1,2027-03-09 08:00,1,12"
        remedy "Draw the tubes again with a tight pump. If the pump passed another check in between, add it. If only the tube of the failed check sat badly and the pump passed at once with another, say so as the reason of a `field_rules` entry that ignores this finding. A check at the end of each day keeps what is in doubt small."
        source "Common practice, no source: the check after use bounds the time for which the check before it speaks.";
}
