import { flag, meetings, type PenRule } from '../yard.js';

/** Shells of very different length in one pen. */
export const sizeGap: PenRule = {
  id: 'size-gap',
  title: 'Large beside small',
  setting: ({ sizeRatio }) => `More than ${sizeRatio} times as long.`,
  source:
    'Juveniles are split by size: common practice, no source; larger males win and sire more: Moon et al. 2006, J. Hered. 97:150-157. The ratio is a setting, chosen by us',
  check(yard) {
    return meetings(yard).flatMap((meeting) => {
      const [large, small] =
        (meeting.a.sclMm ?? 0) >= (meeting.b.sclMm ?? 0)
          ? [meeting.a, meeting.b]
          : [meeting.b, meeting.a];
      if (large.sclMm === null || small.sclMm === null) return [];
      if (large.sclMm <= yard.settings.sizeRatio * small.sclMm) return [];
      return flag(yard, this, meeting, {
        pen: meeting.pen,
        animals: [large.id, small.id],
        severity: 'note',
        message: `${large.id} (${large.sclMm} mm) is more than ${yard.settings.sizeRatio} times as long as ${small.id} (${small.sclMm} mm) in ${meeting.pen}.`,
        remedy: 'Group them by size, or give hides that only the smaller can enter.',
      });
    });
  },
};
