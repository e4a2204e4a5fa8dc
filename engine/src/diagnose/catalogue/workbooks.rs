//! F321 to F329: workbooks and Parquet files.

super::family! {
    "Workbooks"

    SHEET_MISSING "F321" "sheet-missing" Error Undecidable
        what "The workbook has no sheet of this name."
        why "Which sheet is meant cannot be guessed."
        example "study.yaml   tables: {readings: field.xlsx#reading}   (the sheet is called readings)"
        remedy "Correct the name behind the hash; the help names the sheets that are there."
        source "Our own rule: nothing is guessed.";
    TABLE_DAMAGED "F322" "table-damaged" Error Undecidable
        what "The workbook or Parquet file is damaged, or not one at all."
        why "A part of a table would be taken for the whole."
        example "field.xlsx   (cut off while it was copied)"
        remedy "Fetch the file again from where it came from, or open it in the spreadsheet and save it again."
        source "Our own rule.";
    WORKBOOK_LOCKED "F323" "workbook-locked" Error Undecidable
        what "The workbook is protected by a password."
        why "Its contents are encrypted."
        example "field.xlsx   (saved with a password for opening)"
        remedy "Take the password away in the spreadsheet and save it again. A password that only protects sheets does no harm."
        source "Our own rule.";
    WORKBOOK_TOO_LARGE "F324" "workbook-too-large" Error Undecidable
        what "The workbook is larger than a study can be."
        why "A small file may unpack to more than the memory holds."
        example "field.xlsx   (1 MB that unpacks to 4 GB)"
        remedy "Copy the tables of the study into a new workbook, or save them as CSV."
        source "Our own rule.";
    MERGED_CELLS "F325" "merged-cells" Error Undecidable
        what "Cells of the table are merged."
        why "Only the first of them holds a value; whether it was meant for all of them cannot be told."
        example "field.xlsx#readings   cells B2:B5 merged, showing W1"
        remedy "Unmerge them and write the value into each."
        source "Our own rule: nothing is guessed.";
    CELL_ERROR "F326" "cell-error" Error Undecidable
        what "A cell shows an error in the place of a value."
        why "Taken for zero or left out, it would change figures without notice."
        example "field.xlsx#readings   H4: #N/A"
        remedy "Put the formula or its input right, or write the value itself."
        source "Our own rule: nothing is guessed.";
    FORMULA_WITHOUT_VALUE "F327" "formula-without-value" Error Undecidable
        what "A formula has never been computed."
        why "The file holds no value for the cell, and the program computes no formulas."
        example "field.xlsx#readings   H4: =G4*2   (never opened in a spreadsheet)"
        remedy "Open the workbook in a spreadsheet and save it, or write the value itself."
        source "Our own rule.";
    FORMULA_READ "F328" "formula-read" Note Undecidable
        what "A formula stands in the table; what it last came to is read."
        why "Where the spreadsheet had not computed it anew before saving, the value is an old one."
        example "field.xlsx#readings   F5: =F4+TIME(0,30,0)"
        remedy "Nothing need be done if the spreadsheet saved it up to date. A measured value is best written as itself."
        source "Our own rule: nothing is read silently that may be old.";
    HIDDEN_ROWS "F329" "hidden-rows" Warning Undecidable
        what "Rows of a sheet that hold values are hidden in the spreadsheet, as after filtering."
        why "They are read like all others; who looks at the sheet does not see them count."
        example "field.xlsx   sheet readings, row 4 hidden"
        remedy "Show them if they count; if they do not, delete them."
        source "Our own rule.";
}
