import { describe, expect, it } from 'vitest';
import type { Observation } from '../../engine/types';
import { formOf, observationOf } from './observation';

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
    for (const observation of [joint7, byTube]) expect(observationOf(formOf(observation))).toEqual({ observation });
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

  it('says which fields are wrong', () => {
    const form = { ...formOf(joint7), count: '2,5', seconds: '0', diameter: 'big' };
    expect(observationOf(form)).toEqual({ wrong: { count: 'number', seconds: 'positive', diameter: 'number' } });
  });
});
