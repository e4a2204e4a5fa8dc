//! F101 to F107: files and notation.

super::family! {
    "Files and notation"

    FILE_MISSING "F101" "file-missing" Error Undecidable
        what "A file that the study names is not there."
        why "What stands in it cannot be guessed."
        example "study.yaml   tables: {readings: reading.csv, diary: diary.csv}   (the file is readings.csv)"
        remedy "Correct the name, or put the file beside study.yaml."
        source "Our own rule: nothing is guessed.";
    FILE_UNREADABLE "F102" "file-unreadable" Error Undecidable
        what "A file that the study names cannot be read."
        why "It may be a folder, a device or larger than a file can be, lie outside the study, be locked or be forbidden to you."
        example "study.yaml   tables: {readings: ../elsewhere/readings.csv}"
        remedy "Put the file into the folder of the study, close the program that holds it, and see that you may read it."
        source "Our own rule: a study is one folder that can be handed on whole.";
    NOT_UTF8 "F103" "not-utf8" Error Undecidable
        what "The file is not written in UTF-8."
        why "Text in another encoding would be misread without notice."
        example "study.yaml   an older editor saved an accented letter in its own encoding"
        remedy "Save the file again as UTF-8; spreadsheets call it CSV UTF-8."
        source "Our own rule: nothing is guessed.";
    YAML_BROKEN "F104" "yaml-broken" Error Undecidable
        what "The study file cannot be read as YAML from this place on."
        why "A bracket, a quote or the setting-in of a line is wrong, and what follows would mean something else."
        example "study.yaml   study: {title: A small study, site: Hall 2"
        remedy "Look at this line and those before it: brackets and quotes must close, a text that holds a colon needs quotes, and entries are set in by blanks, never by tabs."
        source "YAML 1.2.";
    DUPLICATE_KEY "F105" "duplicate-key" Error Undecidable
        what "The same name stands twice in one place of the study file."
        why "Of two entries with the same name, one would be lost without notice."
        example "study.yaml   tasks: {turning: {}, turning: {unsampled: zero}}"
        remedy "Keep one of the two, or give the second its own name."
        source "YAML 1.2: the keys of a mapping are unique.";
    YAML_TOO_DEEP "F106" "yaml-too-deep" Error Undecidable
        what "The study file is nested or repeated beyond what a study can mean."
        why "Such a file would take all memory to read and says nothing about a study."
        example "study.yaml   [[[[[[[[ and so on"
        remedy "Take the brackets away that are too many, move long lists into a table, and write entries out instead of repeating them by & and *."
        source "Our own rule.";
    ARCHIVE_WITHOUT_GROUP "F107" "archive-without-group" Error Undecidable
        what "The tables are too long to be shown reading by reading, and no group was named."
        why "An archive is assessed group by group; a page of single shifts or readings shows one group of it."
        example "fullshift report archive --out r.html"
        remedy "Name the group, as --group G17. `assess` without a group gives an overview of all of them."
        source "Our own rule.";
    READ_AS_WINDOWS_1252 "F110" "read-as-windows-1252" Note Undecidable
        what "A table is not written in UTF-8; it is read as Windows-1252."
        why "In another encoding than the one taken, accented letters would turn into others; figures and plain letters do not change."
        example "readings.csv   place: à côté   (saved as \"CSV\" by a spreadsheet under Windows)"
        remedy "Check the accented letters. To be sure of them, save the table as UTF-8."
        source "WHATWG Encoding Standard: windows-1252.";
}
