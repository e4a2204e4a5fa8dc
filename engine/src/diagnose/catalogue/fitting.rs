//! F401 to F415: what does not fit together.

super::family! {
    "What does not fit together"

    DUPLICATE_ID "F401" "duplicate-id" Error Undecidable
        what "Two readings have the same name."
        why "They cannot be told apart in the report and in the working of a figure."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12\n               R7,W2,turning,NH3-M,P1,2027-03-09 09:40,1,20"
        remedy "Give one of them another id; if it is the same tube, take one row away."
        source "Our own rule.";
    END_BEFORE_START "F402" "end-before-start" Error Undecidable
        what "A row of the diary ends before it starts."
        why "It would last less than no time."
        example "diary.csv   W2,2027-03-09 22:00,2027-03-09 06:00,turning"
        remedy "Check both times; past midnight the date of the end is the next day."
        source "Our own rule.";
    DIARY_OVERLAP "F403" "diary-overlap" Error Undecidable
        what "Two rows of one worker's diary overlap."
        why "One person cannot do two tasks at once; the minutes would count twice."
        example "diary.csv   W2,2027-03-09 06:00,2027-03-09 08:30,turning\n            W2,2027-03-09 08:00,2027-03-09 14:00,screening"
        remedy "Let one row end where the next begins."
        source "Our own rule.";
    READING_OUTSIDE_DIARY "F404" "reading-outside-diary" Error Stopped
        what "A reading was taken when the diary says that the worker was not at work."
        why "It belongs to no shift; its time, its worker or the diary is wrong."
        example "diary.csv      W2 from 2027-03-09 06:00 to 14:00\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 18:10,1,12"
        remedy "Correct the start or the worker of the reading, or add the time to the diary. What cannot be cleared up can be rejected with a reason."
        source "Our own rule.";
    READING_IN_OTHER_TASK "F405" "reading-in-other-task" Error Stopped
        what "The reading names one task, the diary another at that minute."
        why "It would speak for the wrong task, and through it for all its minutes."
        example "diary.csv      W2,2027-03-09 06:00,2027-03-09 10:00,turning\nreadings.csv   R7,W2,screening,NH3-M,P1,2027-03-09 08:10,1,12"
        remedy "Correct the task or the time of the reading, or the diary. What cannot be cleared up can be rejected with a reason."
        source "Our own rule.";
    READING_OFF_SCALE "F406" "reading-off-scale" Error Undecidable
        what "The stain is said to lie where the tube has no marks."
        why "A tube cannot be read outside its printed scale; a number there is a guess or belongs to another tube."
        example "study.yaml     marks: [5, 10, 20, 30, 50, 70, 100]\nreadings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,2"
        remedy "Write <5 for less than the first mark, >100 for past the last, and check the type of the tube."
        source "The tube sheet.";
    WORKER_IN_TWO_GROUPS "F407" "worker-in-two-groups" Error Undecidable
        what "A worker is listed in two groups, or twice."
        why "A worker's shifts can speak for one group only."
        example "study.yaml   groups: {hall: {workers: [W1, W2]}, yard: {workers: [W2, W3]}}"
        remedy "Leave the worker in one of the two. Who changes between two kinds of work can have a name in each."
        source "EN 689, similar-exposure groups (recalled).";
    SHIFT_TOO_LONG "F408" "shift-too-long" Error Undecidable
        what "A working period lasts more than 24 hours."
        why "It is a slip of the pen in a date."
        example "diary.csv   W2,2027-03-09 06:00,2027-03-11 14:00,turning"
        remedy "Check the dates; a new shift begins after a rest of `shift: {new_after: 4 h}`."
        source "Our own rule.";
    NEEDS_MOLAR_MASS "F409" "needs-molar-mass" Error Undecidable
        what "An agent is given in ppm and in mg/m3, but its molar mass is not known."
        why "Without the molar mass the two cannot be compared."
        example "study.yaml   agents: {ammonia: {}}\n             limits: [{agent: ammonia, kind: twa, value: 14 mg/m3}]   (tube in ppm)"
        remedy "Add it under `agents`, as molar_mass: 17.03."
        source "mg/m3 = ppm x M / V, NIOSH Pocket Guide, conversion factors.";
    MIXED_DIARY "F410" "mixed-diary" Error Undecidable
        what "The diary tells the time of a row or of a shift both by the clock and by minutes."
        why "The two could say different things. One table may tell some shifts by the clock and others by minutes, but each in one way; of one worker not two shifts of the same day, which could not be told apart."
        example "diary.csv   worker,task,start,end,shift,minutes\n            W1,turning,2027-03-09 06:00,2027-03-09 10:00,,\n            W1,screening,,,2027-03-09 06:00,240"
        remedy "Keep `start` and `end`, or `shift` and `minutes`."
        source "Our own rule.";
    SHIFT_WITHOUT_READINGS "F411" "shift-without-readings" Note Noted
        what "No tube was drawn in a shift that the diary tells of."
        why "The shift has no figure and is no part of its group's profile."
        example "diary.csv   W2 from 2027-03-10 06:00 to 14:00, without a reading of W2 that day"
        remedy "Nothing need be done if the worker was not to be sampled that day."
        source "Our own rule.";
    AGENT_WITHOUT_LIMIT "F412" "agent-without-limit" Error Undecidable
        what "A group is assessed for an agent that has no limit."
        why "Without a limit there is nothing to judge the agent by."
        example "study.yaml   groups: {hall: {workers: [W1], agents: [ammonia]}}   (its limits are missing)"
        remedy "Add a limit, as {agent: ammonia, kind: twa, value: 20 ppm, source: national list}."
        source "Our own rule.";
    MIXTURE_OF_NO_GROUP "F413" "mixture-of-no-group" Warning Undecidable
        what "No group is assessed for all substances of a mixture."
        why "Its index is the sum of TWA over limit over all of them, so it cannot be given."
        example "study.yaml   additive: [[ammonia, amines]]\n             groups: {hall: {workers: [W1], agents: [ammonia]}}"
        remedy "Add the substances to the agents of a group, or take the mixture away."
        source "Our own rule.";
    POPULATION_TOO_SMALL "F414" "population-too-small" Error Undecidable
        what "A group is said to be smaller than the number of workers who belong to it."
        why "How many workers are to be sampled depends on how many there are."
        example "study.yaml    groups: {hall: {population: 2, agents: [ammonia]}}\nworkers.csv   W1,hall   W2,hall   W3,hall"
        remedy "Count everybody who belongs to the group, sampled or not, or correct the table of workers."
        source "Our own rule.";
    MINUTES_TOO_FEW "F415" "minutes-too-few" Warning Undecidable
        what "The tubes of a shift lie further apart than all the minutes that its diary tells."
        why "Hours written as minutes make a whole shift last a few minutes: its dose would shrink to nothing."
        example "diary.csv      worker,shift,task,minutes\n               W1,2027-03-09 06:00,turning,4.5   (hours were meant)\nreadings.csv   W1 from 2027-03-09 06:40 to 12:40"
        remedy "Write how long each task lasted in minutes, or head the column `minutes [h]`. Where a long break is the reason, give it a row of its own."
        source "Our own rule.";
}
