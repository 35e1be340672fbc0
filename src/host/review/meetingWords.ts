/** A meeting as its debrief calls it: an organiser's meetings bear one name, so their days tell them apart. */
import type { MeetingAbout } from '../meeting/types.js';

const datesOf = ({ firstDay, lastDay }: Pick<MeetingAbout, 'firstDay' | 'lastDay'>): string =>
  firstDay === lastDay ? firstDay : `${firstDay} to ${lastDay}`;

export const titleOf = (meeting: Pick<MeetingAbout, 'name' | 'firstDay' | 'lastDay'>): string =>
  `${meeting.name}, ${datesOf(meeting)}`;
