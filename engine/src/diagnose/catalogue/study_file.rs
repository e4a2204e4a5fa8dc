//! F201 to F213: `study.yaml`.

super::family! {
    "The study file"

    UNKNOWN_KEY "F201" "unknown-key" Error Undecidable
        what "The study file has a setting that is not known at this place."
        why "A misspelt setting would be ignored without notice."
        example "study.yaml   limits: [{agent: ammonia, kind: twa, valeu: 20 ppm}]"
        remedy "Correct its spelling or its setting-in; the help names the nearest setting."
        source "Our own rule: nothing is ignored silently.";
    MISSING_KEY "F202" "missing-key" Error Undecidable
        what "Something that every figure needs is not given."
        why "Without it nothing can be computed, and a guess would look like your word."
        example "study.yaml   tubes: {NH3-M: {agent: ammonia, unit: ppm, strokes: 1}}   (no marks)"
        remedy "Add the entry that the help shows."
        source "Our own rule: nothing is guessed.";
    WRONG_KIND "F203" "wrong-kind" Error Undecidable
        what "The entry has another form than is needed here: a list for a word, a word for a group of entries."
        why "It cannot be told what was meant."
        example "study.yaml   agents: ammonia"
        remedy "Write it in the form that the message names: `name: value`, {name: value} or [a, b]."
        source "Our own rule: nothing is guessed.";
    BAD_QUANTITY "F204" "bad-quantity" Error Undecidable
        what "A quantity cannot be read, or has no unit, or a unit of another kind."
        why "A number without its unit, or with a unit of another kind, could mean anything."
        example "study.yaml   limits: [{agent: ammonia, kind: twa, value: 20}]"
        remedy "Write number and unit, as 20 ppm, 35 mg/m3, 15 min, 25 C, 101.3 kPa or 10 %."
        source "Our own rule: nothing is guessed.";
    UNKNOWN_NAME "F205" "unknown-name" Error Undecidable
        what "A name is used that is declared nowhere."
        why "It is a slip of the pen or a missing declaration; either would lose readings without notice."
        example "study.yaml     pumps: {P1: {}, P2: {}}\nreadings.csv   R7,W2,turning,NH3-M,P4,2027-03-09 08:10,1,12"
        remedy "Correct the name, or declare it in study.yaml."
        source "Our own rule: nothing is guessed.";
    IMPOSSIBLE_VALUE "F206" "impossible-value" Error Undecidable
        what "A measurement or setting has a value that it cannot have."
        why "It is a slip of the pen, and every figure after it would be wrong."
        example "readings.csv   humidity: 140 %"
        remedy "Check the number and its unit against the field notes."
        source "Physics, or what a workplace can be; our own rule.";
    BAD_CHOICE "F207" "bad-choice" Error Undecidable
        what "A word stands where only a few words are possible."
        why "It cannot be told which of them was meant."
        example "readings.csv   purpose: randon"
        remedy "Write one of the words that the help lists."
        source "Our own rule: nothing is guessed.";
    LOGO_UNUSABLE "F208" "logo-unusable" Error Undecidable
        what "The logo of the report is neither a PNG nor a JPEG picture."
        why "Another kind of picture cannot stand in every form of the report."
        example "study.yaml   report: {logo: logo.svg}"
        remedy "Save the picture as PNG or JPEG beside study.yaml, or take `logo` away."
        source "Our own rule.";
    LEFT_AS_LAID_DOWN "F209" "left-as-laid-down" Note Undecidable
        what "Words that `fullshift start` laid down were not replaced."
        why "They stand in the report: its title, who signs it, where a limit was taken from."
        example "study.yaml   prepared_by: Who signs"
        remedy "Write your own words in their place."
        source "Our own rule.";
    LIMIT_BELOW_TWA "F210" "limit-below-twa" Warning Undecidable
        what "A short-term limit or a ceiling is lower than the TWA limit of the same substance."
        why "A peak may be higher than the mean of the day. Where its limit is lower, one of the two was copied wrongly, or has another unit or kind than was meant."
        example "study.yaml   limits:\n             - {agent: ammonia, kind: twa, value: 20 ppm, source: national list}\n             - {agent: ammonia, kind: short-term, value: 5 ppm, averaging: 15 min}"
        remedy "Check value, unit and kind of both in the list they were taken from. Limits in ppm or ppb are compared with each other, and so are those in mg/m3 or ug/m3; of several TWA limits the lowest counts."
        source "Our own rule; it follows from what the limits mean.";
    LIMIT_WITHOUT_SOURCE "F211" "limit-without-source" Note Undecidable
        what "A limit does not say where it was taken from."
        why "A verdict is worth what its limit is worth; the report names the source beside each limit, so that a reader can look it up."
        example "study.yaml   limits: [{agent: ammonia, kind: twa, value: 20 ppm}]"
        remedy "Add the list, its edition and what else identifies the limit, as source: national list, edition of 2027."
        source "Our own rule.";
    UNLIKELY_SCATTER "F212" "unlikely-scatter" Note Undecidable
        what "The relative standard deviation of a tube is below 1 % or above 50 %."
        why "It is probably a slip of the pen: a decimal point, or a fraction written as per cent. The limits of every figure that rests on single readings would be far too narrow or too wide."
        example "study.yaml   tubes: {NH3-M: {relative_sd: 0.1 %}}   (for 10 %)"
        remedy "Compare it with the tube sheet. Most detector tubes lie between 5 % and 25 %."
        source "Common practice, no source.";
    NAMES_ALIKE "F213" "names-alike" Warning Undecidable
        what "Two names of one kind differ in capitals only."
        why "They count as two: one worker's shift falls into two halves, each with part of the tubes and of the time, and both with a wrong TWA."
        example "study.yaml   groups: {hall-operators: {workers: [W1, w1], agents: [ammonia]}}"
        remedy "Write the name in one way in every file. Two that are meant need names that a reader can tell apart."
        source "Our own rule.";
}
