import { describe, expect, it } from 'vitest';
import type { Observation } from '../../engine/types';
import { blankSize, formOf, observationOf } from './observation';

const joint7: Observation = {
  medium: 'film',
  how: 'window',
  count: 12,
  seconds: 20,
  size: { as: 'diameter', diameter: { value: 3, unit: 'mm' } },
};

describe('correcting an observation', () => {
  it('gives back what it shows, unless something is changed', () => {
    const byTube: Observation = { ...joint7, how: 'ten', size: { as: 'tube', share: 0.5, tube: { value: 6.35, unit: 'mm' } } };
    const several: Observation = {
      ...joint7,
      size: { as: 'ring', diameter: { value: 3.5, unit: 'mm' } },
      moreSizes: [
        { as: 'diameter', diameter: { value: 0.1875, unit: 'in' } },
        { as: 'picture', diameter: { value: 3.47, unit: 'mm' } },
      ],
    };
    expect(formOf(several).more[0]).toMatchObject({ diameter: '3/16', diameterUnit: 'in' });
    for (const observation of [joint7, byTube, several]) expect(observationOf(formOf(observation))).toEqual({ observation });
  });

  it('gives back gas with a head below zero or none, and a class', () => {
    const gas: Observation = { medium: 'water', how: 'collected', seconds: 120, volume: { value: 4.5, unit: 'mL' }, size: { as: 'none' } };
    const lower: Observation = { ...gas, head: { value: -2, unit: 'in' } };
    const froth: Observation = { medium: 'film', how: 'class', class: 'froth-creeping', size: { as: 'none' } };
    for (const observation of [gas, lower, froth]) expect(observationOf(formOf(observation))).toEqual({ observation });
    expect(observationOf({ ...formOf(gas), volume: '0', head: 'high' })).toEqual({ wrong: { volume: 'positive', head: 'number' } });
    expect(observationOf({ ...formOf(joint7), how: 'class' })).toHaveProperty('wrong.looks');
  });

  it('gives back a dome with a height or none, and froth, which must have one', () => {
    const dome: Observation = { medium: 'film', how: 'dome', seconds: 8, size: { as: 'diameter', diameter: { value: 9, unit: 'mm' } } };
    const high: Observation = { ...dome, height: { value: 0.1875, unit: 'in' } };
    const froth: Observation = { ...high, how: 'froth' };
    for (const observation of [dome, high, froth]) expect(observationOf(formOf(observation))).toEqual({ observation });
    expect(observationOf({ ...formOf(froth), height: '' })).toEqual({ wrong: { height: 'missing' } });
    expect(observationOf({ ...formOf(dome), height: '0' })).toEqual({ wrong: { height: 'positive' } });
  });

  it('keeps only the size that was chosen', () => {
    const form = { ...formOf(joint7), as: 'tube' as const, share: '0,5', tube: '1/4' };
    expect(observationOf(form)).toEqual({ wrong: { tube: 'number' } });
    const body = observationOf({ ...form, tube: '0,25', tubeUnit: 'in' });
    expect(body).toMatchObject({ observation: { size: { as: 'tube', share: 0.5, tube: { value: 0.25, unit: 'in' } } } });
    expect(body).not.toHaveProperty('observation.size.diameter');
  });

  it('takes taps for a count from the first to the last', () => {
    const taps = { ...joint7, how: 'taps', taps: [0.5, 1.25, 2.1, 3.001] };
    expect(formOf(taps)).toMatchObject({ how: 'ten', count: '4', seconds: '2.501' });
    expect(formOf({ ...joint7, how: 'taps' })).toMatchObject({ count: '0', seconds: '0' });
  });

  it('says what is wrong with which further size', () => {
    const form = { ...formOf(joint7), more: [{ ...blankSize, diameter: '3' }, { ...blankSize, as: 'tube' as const, share: '0,5' }] };
    expect(observationOf(form)).toEqual({ wrong: { more: [{}, { tube: 'missing' }] } });
  });

  it('says which fields are wrong', () => {
    const form = { ...formOf(joint7), count: '2,5', seconds: '0', diameter: 'big' };
    expect(observationOf(form)).toEqual({ wrong: { count: 'number', seconds: 'positive', diameter: 'number' } });
  });
});
