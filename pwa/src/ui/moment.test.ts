import { describe, expect, it } from 'vitest';
import { momentOf } from './moment';

describe('momentOf', () => {
  it('is as long ago as the event', () => {
    expect(momentOf(4000, 4120, 1_800_000_000_000)).toBe(1_799_999_999_880);
  });
  it('holds after a sleep in which the page\'s clock stood still', () => {
    const hour = 3_600_000;
    expect(momentOf(4000, 4000, 1_800_000_000_000 + hour)).toBe(1_800_000_000_000 + hour);
  });
  it('is never later than now', () => {
    expect(momentOf(5000, 4000, 1_800_000_000_000)).toBe(1_800_000_000_000);
  });
});
