import { describe, expect, it } from '@jest/globals';
import { dayText, parsePartialDate } from '@scutewright/basics';

describe('parsePartialDate', () => {
  it('knows the earliest and latest day it may be', () => {
    const month = parsePartialDate('2012-02');
    expect(month && [dayText(month.earliest), dayText(month.latest)]).toEqual([
      '2012-02-01',
      '2012-02-29',
    ]);
    const year = parsePartialDate('2011');
    expect(year && [dayText(year.earliest), dayText(year.latest)]).toEqual([
      '2011-01-01',
      '2011-12-31',
    ]);
    const about = parsePartialDate('2011-06-03~');
    expect(about && [dayText(about.earliest), dayText(about.latest)]).toEqual([
      '2011-05-27',
      '2011-06-10',
    ]);
  });

  it('refuses days that do not exist', () => {
    for (const text of [
      '2011-02-29',
      '2011-02-31',
      '2011-13',
      '2011-00',
      '20111',
      '11-06-03',
      '3 June',
      '',
      '0300',
    ])
      expect(parsePartialDate(text)).toBeNull();
  });
});
