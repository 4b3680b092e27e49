import { describe, expect, it } from 'vitest';
import { grouped, plain, whole } from './code';

describe('a code while it is typed', () => {
  it('is mended where people confuse characters', () => {
    expect(plain('o0 iIlL1')).toBe('0011111');
    expect(plain('abc-de')).toBe('ABCDE');
  });

  it('drops what no code holds', () => {
    expect(plain('U u _ / ; é')).toBe('');
    expect(plain('7k\n2m')).toBe('7K2M');
  });

  it('is grouped as the label writes it, at every length', () => {
    expect(grouped('')).toBe('');
    expect(grouped('abcde')).toBe('ABCDE');
    expect(grouped('abcdef')).toBe('ABCDE-F');
    expect(grouped('abcdefghjk')).toBe('ABCDE-FGHJK');
    expect(grouped('abcdefghjkm')).toBe('ABCDE-FGHJK-M');
    expect(grouped('abcdefghjkmnnn')).toBe('ABCDE-FGHJK-M');
  });

  it('grouping again changes nothing, so that a caret at the end stays there', () => {
    for (const text of ['a', 'abcde', 'abcdefgh', 'abcdefghjkm']) expect(grouped(grouped(text))).toBe(grouped(text));
  });

  it('is whole with eleven characters, not before', () => {
    expect(whole('abcde-fghjk')).toBe(false);
    expect(whole('abcde fghjk m')).toBe(true);
  });
});
