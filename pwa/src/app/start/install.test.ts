import { describe, expect, it } from 'vitest';
import { deviceKind, isShortLived, placeOf } from './install';

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

describe('a tab that is cleared after seven days', () => {
  const iphone = 'Mozilla/5.0 (iPhone; CPU iPhone OS 17_4 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.4 Mobile/15E148 Safari/604.1';
  const mac = 'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.4 Safari/605.1.15';

  it('is one of an iPhone or an iPad, however the iPad calls itself', () => {
    expect(isShortLived({ agent: iphone, touches: 5, standalone: false })).toBe(true);
    expect(isShortLived({ agent: mac, touches: 5, standalone: false })).toBe(true);
  });

  it('is neither the installed app, nor a Mac, nor another phone', () => {
    expect(isShortLived({ agent: iphone, touches: 5, standalone: true })).toBe(false);
    expect(isShortLived({ agent: mac, touches: 0, standalone: false })).toBe(false);
    expect(isShortLived({ agent: 'Mozilla/5.0 (Linux; Android 14)', touches: 5, standalone: undefined })).toBe(false);
  });
});
