//! F012 and F013: the pumps and their leak checks.

super::family! {
    "Field work: pumps and leak checks"

    LEAK_CHECK_MISSING "F012" "leak-check-missing" Warning Qualified
        what "A pump drew tubes without a leak check before on that day."
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
}
