//! F301 to F312: tables.

super::family! {
    "Tables"

    TABLE_EMPTY "F301" "table-empty" Error Undecidable
        what "The table is empty: it has not even a header line."
        why "Without a header line its columns are unknown."
        example "diary.csv   (no line at all)"
        remedy "Begin the table with its header line and fill in the rows."
        source "Our own rule: nothing is guessed.";
    TABLE_WITHOUT_ROWS "F302" "table-without-rows" Error Undecidable
        what "The table has a header but no rows."
        why "Readings without a diary belong to no shift."
        example "diary.csv   worker,start,end,task"
        remedy "Fill in at least one row."
        source "Our own rule.";
    MISSING_COLUMN "F303" "missing-column" Error Undecidable
        what "A column that every row needs is not there."
        why "Its cells cannot be guessed."
        example "readings.csv   id,worker,task,tube,pump,strokes,reading   (no start)"
        remedy "Add the column, or correct its heading; the help names a column that was probably meant."
        source "Our own rule: nothing is guessed.";
    RAGGED_ROW "F304" "ragged-row" Error Undecidable
        what "A row has more or fewer cells than the header."
        why "Its cells cannot be matched to the columns; all behind the missing one would slip into their neighbours."
        example "readings.csv   R7,W2,turning,NH3-M,2027-03-09 08:10,1,12   (no pump)"
        remedy "Add the missing cell, empty if need be, or take the one too many away. A cell that holds the separator needs quotes."
        source "Our own rule: nothing is guessed.";
    EXTRA_COLUMNS "F305" "extra-columns" Note Undecidable
        what "The table has columns that are not known; they are kept in the file and not used."
        why "A misspelt heading would lose its column without notice."
        example "readings.csv   id,worker,task,tube,pump,start,strokes,reading,weather"
        remedy "Nothing need be done, unless the heading was meant to be a known one."
        source "Our own rule: nothing is ignored silently.";
    DUPLICATE_COLUMN "F306" "duplicate-column" Error Undecidable
        what "Two columns have the same heading."
        why "Of two columns with the same name, one would be lost without notice."
        example "readings.csv   id,worker,task,task,tube,pump,start,strokes,reading"
        remedy "Keep one of the two, or rename the other."
        source "Our own rule: nothing is ignored silently.";
    BAD_CELL "F307" "bad-cell" Error Undecidable
        what "A cell cannot be read."
        why "Taken for zero or left out, it would change figures without notice."
        example "readings.csv   reading: about 12"
        remedy "Write it in the form that the help shows. A stain is 12, 10..15, <5, >100 or 8/14; a tube that broke or could not be read is `spoiled`."
        source "Our own rule: nothing is guessed.";
    EMPTY_CELL "F308" "empty-cell" Error Undecidable
        what "A cell that every row needs is empty."
        why "Taken for zero or left out, it would change figures without notice."
        example "readings.csv   R7,,turning,NH3-M,P1,2027-03-09 08:10,1,12   (no worker)"
        remedy "Fill it in from the field notes."
        source "Our own rule: nothing is guessed.";
    AMBIGUOUS_NUMBER "F309" "ambiguous-number" Error Undecidable
        what "A comma in a number may part decimals or thousands."
        why "The two differ by a factor of a thousand."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,\"1,250\""
        remedy "Write a decimal point. In a table whose cells are parted by semicolons or tabs a comma parts decimals; in study.yaml `20,5 ppm` is read, `1,000 ppm` is not."
        source "Our own rule: nothing is guessed.";
    UNKNOWN_FORMAT "F310" "unknown-format" Error Undecidable
        what "The file is of a kind that cannot be read as a table."
        why "What is in it cannot be told."
        example "study.yaml   tables: {readings: readings.pdf}"
        remedy "Save it as CSV from the program that made it."
        source "Our own rule.";
    NO_SUCH_TIME "F311" "no-such-time" Error Undecidable
        what "The clock never showed this local time, or showed it twice."
        why "Where the clock is put forward or back, an hour is missing or stands twice, and a reading could be an hour off."
        example "study.yaml     time_zone: Europe/Berlin\nreadings.csv   start: 2027-10-31 02:30"
        remedy "Correct the time, or write the offset from UTC behind it, as 2027-10-31 02:30 +01:00."
        source "The IANA time zone database.";
    NO_READINGS_YET "F312" "no-readings-yet" Note Undecidable
        what "The table of readings has a header and no rows: nothing was measured yet."
        why "Such a study can be planned; an assessment of it has no figure to give."
        example "readings.csv   id,worker,task,tube,pump,start,strokes,reading"
        remedy "Nothing need be done before the visit; `fullshift plan` says whom to sample, when and with which tubes."
        source "Our own rule.";
}
