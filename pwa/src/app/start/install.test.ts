import { describe, expect, it } from 'vitest';
import { deviceKind, placeOf } from './install';

describe('where the page runs', () => {
  it('is the app wherever it stands alone', () => {
    expect(placeOf({ standalone: true, coarse: true, side: 390 })).toBe('app');
    expect(placeOf({ standalone: true, coarse: false, side: 900 })).toBe('app');
  });

  it('is a phone only with a finger and a small screen', () => {
    expect(placeOf({ standalone: false, coarse: true, side: 390 })).toBe('phone');
    expect(placeOf({ standalone: false, coarse: true, side: 820 })).toBe('desk');
    expect(placeOf({ standalone: false, coarse: false, side: 390 })).toBe('desk');
  });

  it('proposes a name by the kind of device', () => {
    expect(deviceKind({ standalone: false, coarse: true, side: 390 })).toBe('plain');
    expect(deviceKind({ standalone: false, coarse: true, side: 820 })).toBe('tablet');
    expect(deviceKind({ standalone: false, coarse: false, side: 900 })).toBe('desk');
  });
});
