/**
 * What each sheet can be told, in its own words. The key is the first letter of the words, underlined on the screen;
 * on one sheet no letter says two things (a test checks it). P, X, U, T and figures are left alone.
 */
export const SHEET_WORDS = {
  day: {
    bringIn: 'Bring in a card',
    wholeDay: 'Whole day again',
  },
  bringIn: {
    bringIn: 'Bring it in',
    leave: 'Not now',
  },
  before: {
    sayTimetable: 'Say this timetable',
    sayStands: 'Write down where I stood',
    late: 'It started late by these minutes',
    red: 'Red: stopped now',
    again: 'On again now',
    lunch: 'Make lunch shorter by these minutes',
    drop: 'Drop this session',
    group: 'A group more',
    entries: 'Entry list is this',
    notePapers: 'Note this meeting’s papers',
    keepPapers: 'Keep my papers',
    listKit: 'List my kit',
  },
  riders: {
    number: 'Number',
    about: 'About what time',
    everyone: 'Everyone again',
    join: 'Join the two',
    wholeDay: 'Whole day again',
  },
  rider: {
    takeOut: 'Off this sheet',
    moveOn: 'Join to another rider',
    mark: 'Mark this pass',
    unmark: 'Mark off again',
    divide: 'Divide here',
    keep: 'Keep this frame',
    leaveOut: 'Leave it out',
    sameAs: 'Another is this rider too',
    nextRider: 'Next rider',
    whoIsIt: 'See who this could be',
    instructs: 'Instructs: not counted',
    noInstructor: 'Is no instructor',
    thisOne: 'Yes, this is the one',
    another: 'Else: who it could be',
    number: 'Give it this number',
    settle: 'Right as it is: settle it',
    bar: 'Bar this picture',
    hide: 'Hide from every gallery',
    wholeDay: 'Whole day again',
  },
  join: {
    join: 'Join the two',
    back: 'Back, nothing joined',
  },
  bar: {
    yes: 'Yes, for good',
    back: 'Back, nothing is barred',
  },
  session: {
    borderHere: 'Border before this pass',
    noBorder: 'Runs on from the one before',
    group: 'Group is as chosen',
    nextSession: 'Next session',
    whoIsIt: 'See who this could be',
    headCount: 'Head count is this',
    wholeDay: 'Whole day again',
  },
  questions: {
    join: 'Join the two',
    joinMarked: 'Join the marked',
    apart: 'Apart',
    offMarked: 'Off with the marked',
    allOne: 'All are this rider',
    none: 'None of them',
    maybe: 'Maybe this one',
    cantTell: 'Can’t tell',
    cantTellRest: 'Can’t tell about the rest',
    setRight: 'Set it right',
    stillWrong: 'Still wrong, as before',
    clockWasRight: 'Clock was right',
    clockStays: 'Clock stays as set',
    border: 'Border here',
    runsOn: 'Runs on',
    later: 'Later',
  },
  handOver: {
    proofs: 'Make the proofs',
    gallery: 'Hand over a gallery',
  },
} as const;

export type Sheet = keyof typeof SHEET_WORDS;

/** Words on one sheet under the same letter, of which only one is ever shown. */
export const NEVER_TOGETHER: Readonly<Partial<Record<Sheet, readonly (readonly [string, string])[]>>> = {
  rider: [
    ['instructs', 'noInstructor'],
    ['mark', 'unmark'],
  ],
  questions: [
    ['join', 'joinMarked'],
    ['apart', 'allOne'],
    ['setRight', 'stillWrong'],
    ['clockWasRight', 'clockStays'],
    ['cantTell', 'cantTellRest'],
    ['cantTell', 'clockWasRight'],
    ['cantTell', 'clockStays'],
    ['cantTellRest', 'clockWasRight'],
    ['cantTellRest', 'clockStays'],
  ],
};

export const keyOf = (words: string): string => words.charAt(0).toLowerCase();
