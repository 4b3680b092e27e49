import { describe, expect, it } from 'vitest';
import type { Program } from '../../../engine/types';
import { blank, formOf, programOf } from './program';

const station: Program = {
  name: 'Body at +200',
  gas: 'air',
  pressure: { value: 200, unit: 'kPa' },
  volume: { value: 200, unit: 'cm3' },
  fill: 5,
  stabilise: 10,
  test: 10,
  vent: 2,
  limitRate: { value: 2, unit: 'std cm3/min', ref: '0C' },
  allowance: 0.1,
  background: true,
  showUnit: 'std cm3/min',
  showRef: '0C',
};

describe('the program form', () => {
  it('gives back the program it shows, for a rate, a drop, and neither', () => {
    const { limitRate: _, ...without } = station;
    const programs: Program[] = [
      station,
      { ...station, limitRate: { value: 1.487e-6, unit: 'mol/s' }, showUnit: 'Pa.m3/s', showRef: '20C', allowance: 0.07 },
      { ...without, limitDrop: { value: 183.1, unit: 'Pa' } },
      { ...without, pressure: { value: -80, unit: 'kPa' } },
    ];
    for (const program of programs) expect(programOf(formOf(program))).toEqual({ program });
  });

  it('takes a comma for a dot and a true minus for vacuum', () => {
    const form = { ...formOf(station), pressure: '−0,8', pressureUnit: 'bar', rate: '0,35' };
    expect(programOf(form)).toMatchObject({ program: { pressure: { value: -0.8 }, limitRate: { value: 0.35 } } });
  });

  it('says which fields are wrong and keeps what was typed', () => {
    const form = { ...blank, pressure: 'two bar', volume: '0', test: '', fill: '-1', allowance: '110', rate: '0' };
    expect(programOf(form)).toEqual({
      wrong: { pressure: 'number', volume: 'positive', test: 'missing', fill: 'out-of-range', allowance: 'percent', rate: 'positive' },
    });
  });

  it('takes empty fill, stabilise and vent times for none', () => {
    const form = { ...formOf(station), fill: '', stabilise: ' ', vent: '' };
    expect(programOf(form)).toMatchObject({ program: { fill: 0, stabilise: 0, vent: 0 } });
  });

  it('leaves the limit that was not chosen out of the record', () => {
    const body = programOf({ ...formOf(station), limitAs: 'drop', drop: '20' });
    expect(body).toMatchObject({ program: { limitDrop: { value: 20, unit: 'Pa' } } });
    expect(body).not.toHaveProperty('program.limitRate');
  });

  it('names a reference only for a unit that has one', () => {
    const body = programOf({ ...formOf(station), rateUnit: 'mol/s', showUnit: 'mol/s' });
    expect(body).not.toHaveProperty('program.limitRate.ref');
    expect(body).not.toHaveProperty('program.showRef');
  });
});
