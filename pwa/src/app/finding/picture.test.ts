import { describe, expect, it } from 'vitest';
import { fitted } from './picture';

describe('the size of a kept picture', () => {
  it('is held within the longer side, its shape kept', () => {
    expect(fitted(4000, 3000, 1600)).toEqual({ width: 1600, height: 1200 });
    expect(fitted(3000, 4000, 1600)).toEqual({ width: 1200, height: 1600 });
  });

  it('is never larger than the picture, never nothing', () => {
    expect(fitted(640, 480, 1600)).toEqual({ width: 640, height: 480 });
    expect(fitted(9000, 2, 1600)).toEqual({ width: 1600, height: 1 });
  });
});
