//! F026 to F030: what stands beside a stain: other substances, blanks, duplicates.

super::family! {
    "Field work: what stands beside a stain"

    INTERFERENT_MISSPELT "F026" "interferent-misspelt" Warning Qualified
        what "A substance is told to be present under a name that is one letter away from one on the sheet of the tube."
        why "Only a substance that the sheet names changes a reading; under another name its interference is lost, and the reading is taken as it stands."
        example "study.yaml     interferes: [{agent: amines, reads: higher, per_ppm: 1.0}]\nreadings.csv   present: amine=2 ppm"
        remedy "Write the substance as the sheet does. Where another one is meant, as ethanol beside methanol, have this finding ignored by a `field_rules` entry that says so. Capitals make no difference; formulas and names of less than four letters are not compared, and a substance that is an agent or stands on another sheet of the study is known under its own name."
        source "Our own rule: nothing is ignored silently.";
    BLANK_WITH_STAIN "F027" "blank-with-stain" Warning Qualified
        what "A blank shows a stain, which it should not."
        why "Either the tubes of that lot colour by themselves, or the clean air was not clean, or the tube was no blank. In the first case every tube of that lot reads too high. The readings of the same type of tube, lot and day are qualified; where a lot is not told, it may be the same."
        example "readings.csv   B1,W2,turning,NH3-M,P1,2027-03-09 07:00,1,8,blank"
        remedy "Draw another blank in air that is known to be clean. If it shows a stain as well, draw the tubes again from another lot; if it does not, have this finding ignored by a `field_rules` entry that says so. If the tube was drawn in the air of the workplace, correct its purpose."
        source "Common practice, no source.";
    DUPLICATES_APART "F028" "duplicates-apart" Note Noted
        what "A duplicate and the reading beside it differ by more than the tubes' own scatter explains."
        why "Two tubes drawn in the same air should agree within their scatter: for 95 % of such pairs |ln a - ln b| is no more than 1.96 sqrt(2) sd, where sd, the standard deviation of the logarithm, is sqrt(ln(1 + r^2)) of the relative standard deviation r of the sheet. Where the pair differs by more, the air changed in between, or one of the two tubes was drawn or read wrongly."
        example "study.yaml     relative_sd: 10 %   (explains a factor of 1.32)\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12,random\n               R8,W2,turning,NH3-M,P1,2027-03-09 08:13,1,20,duplicate"
        remedy "Look at both tubes and at the notes. One pair in twenty differs by more although nothing is wrong; several that do say that the tubes scatter more than their sheet promises. Stains known as ranges are compared by their nearest ends, and only where both were drawn with the same number of strokes."
        source "Normal theory: the difference of two independent values has sqrt(2) times the standard deviation of one.";
    DUPLICATE_ALONE "F029" "duplicate-alone" Note Noted
        what "A duplicate stands beside no reading that it could repeat."
        why "A duplicate feeds no figure; it says how well two tubes agree, and alone it says nothing. Its time, worker, place or tube may be a slip of the pen, or it is a reading of its own that ought to count."
        example "readings.csv   R8,W2,turning,NH3-M,P1,2027-03-09 11:40,1,20,duplicate   (nothing near 11:40)"
        remedy "Correct its time, worker, place or tube, or give it the purpose for which it was drawn. A reading stands beside it if it is of the same worker, or of nobody at the same place, and of the same type of tube, is no blank and no duplicate itself, and was drawn within five minutes."
        source "Our own rule.";
    VERY_SLANTED "F030" "very-slanted" Note Noted
        what "The longest point of a slanted stain is more than three times its shortest."
        why "A slanted stain is read as the mean of its shortest and its longest point, which holds as long as the two lie near each other. Where they do not, the air found a way past the filling, or the tube broke off unevenly, and the mean is a guess."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,5/20"
        remedy "Draw the tube again. Where that is no longer possible, write the stain as a range between two marks, as 5..20: then every figure takes in both ends."
        source "Common practice, no source; the three times are our own rule.";
}
