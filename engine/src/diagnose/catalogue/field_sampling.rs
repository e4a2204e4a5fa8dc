//! F020 to F025: when and how often tubes were drawn.

super::family! {
    "Field work: times and numbers of readings"

    MIXED_PURPOSES "F020" "mixed-purposes" Note Noted
        what "Worst-case, area, blank or duplicate readings stand among those taken at random on a person."
        why "Only personal readings at random times speak for the whole time of a task; readings sought out at the worst moment would push its mean up. The others are shown and labelled and feed no figure."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12,random\n               R8,W2,turning,NH3-M,P1,2027-03-09 08:40,1,70,worst-case"
        remedy "Nothing need be done if the purposes are right. A worst moment is better judged by a short-term or ceiling limit of its own."
        source "EN 689, worst-case against representative measurements (recalled); NIOSH-77-173, random sampling (recalled).";
    NON_RANDOM_TIMES "F021" "non-random-times" Warning Qualified
        what "The readings of a task were not spread over its time as random times would be."
        why "The limits of a mean hold for readings at random times. Readings bunched in one corner of a task, or taken at fixed intervals, can miss what the work does in between."
        example "diary.csv      W2,2027-03-09 06:00,2027-03-09 10:00,turning\nreadings.csv   turning at 06:05, 06:08, 06:12 and 06:16, none later"
        remedy "Choose times at random beforehand: part the time of the task into as many stretches as there are to be readings and draw one time in each. Give readings taken on purpose at one time their own `purpose`. The rule: three or more readings of a task in a shift lie so close together that random times would do so with a chance below 5 % over all tasks of the study that were looked at; or five or more follow each other at one fixed interval of ten minutes or longer."
        source "The spread of random times over a stretch is textbook probability (range of n uniform values, n w^(n-1) - (n-1) w^n); the 5 % and the five readings are our own rule.";
    FEW_READINGS "F022" "few-readings" Note Noted
        what "A task that makes up much of a shift was measured with one or two readings."
        why "With one reading nothing is known of how the air varied, with two hardly anything: the limits of the shift's TWA become very wide or cannot be given. More readings of the task that dominates help most."
        example "diary.csv      W2 turning from 06:00 to 10:00, half of the shift\nreadings.csv   one reading of turning in that shift"
        remedy "Draw three or more tubes in every task that takes a quarter of the shift or more; for a mean over a shift from short readings the sampling manual advises 8 to 11 in all."
        source "NIOSH-77-173, number of grab samples (recalled); the three readings and the quarter are our own rule.";
    NEAR_DUPLICATE "F023" "near-duplicate" Warning Qualified
        what "Two rows tell of the same person, tube, stain and minute under two names."
        why "It is probably one tube entered twice; it would count double."
        example "readings.csv   R7,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12\n               R8,W2,turning,NH3-M,P1,2027-03-09 08:10,1,12"
        remedy "Take one row away, or give a tube really drawn beside another the purpose `duplicate`. Where the study rejects near-duplicates, the later row goes and the first stays."
        source "Our own rule.";
    WINDOW_LONGER_THAN_TASK "F024" "window-longer-than-task" Note Noted
        what "The window of a short-term limit is longer than a task lasted."
        why "The mean over the window takes in minutes of the tasks beside it, so that a short, dirty task is thinned by what came before and after; that is what the limit means, but its readings alone do not give the figure."
        example "study.yaml   limits: [{agent: ammonia, kind: short-term, value: 50 ppm, averaging: 15 min}]\ndiary.csv    W2,2027-03-09 08:00,2027-03-09 08:10,loading"
        remedy "Draw tubes in the minutes before and after the task as well, or judge the task by a ceiling limit."
        source "Common practice, no source.";
    DIARY_GAP "F025" "diary-gap" Note Noted
        what "The diary of a shift leaves out some time between two rows."
        why "The minutes left out count as if nobody had been exposed in them: they are in no task and add nothing to the TWA."
        example "diary.csv   W2,2027-03-09 06:00,2027-03-09 08:00,turning\n            W2,2027-03-09 08:45,2027-03-09 14:00,screening"
        remedy "Add a row for the time left out, as a break in a task whose `unsampled` is zero. A gap of `shift: {new_after: 4 h}` or more parts two shifts and is no gap."
        source "Our own rule.";
}
