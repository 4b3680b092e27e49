import { expect, test } from 'vitest';
import type { Connection, Lasting } from '../../link/types';
import { ofCertificate, pressing } from './lasting';

const lasts = (days: number, warning: string): Lasting => ({ ends: '2026-03-22T08:00:00Z', days, warning });
const fine: Connection = { way: 'local', certificate: lasts(80, 'fine'), authority: lasts(3000, 'fine'), trouble: false };

test('nothing presses while all is renewed by itself', () => {
  expect(pressing(fine)).toBe('');
  expect(ofCertificate(lasts(80, 'fine'), 'local')).toContain('renewed by itself');
  expect(ofCertificate(lasts(80, 'fine'), 'files')).not.toContain('renewed by itself');
});

test('the end is told in days, the certificate before the authority', () => {
  expect(pressing({ ...fine, certificate: lasts(21, 'soon') })).toContain('ends in 21 days, 22 Mar 2026');
  expect(pressing({ ...fine, certificate: lasts(1, 'urgent') })).toContain('ends in 1 day,');
  expect(pressing({ ...fine, certificate: lasts(0, 'urgent') })).toContain('within a day');
  expect(pressing({ ...fine, certificate: lasts(-1, 'ended') })).toContain('ended 22 Mar 2026');
  expect(pressing({ ...fine, authority: lasts(7, 'urgent') })).toContain('authority that phones trust ends in 7 days');
  expect(pressing({ ...fine, certificate: lasts(7, 'urgent'), authority: lasts(7, 'urgent') })).toMatch(/^The certificate ends in 7 days/);
});

test('what cannot be taken or renewed presses too', () => {
  expect(pressing({ ...fine, way: 'files', trouble: true })).toContain('the earlier certificate goes on');
  expect(pressing({ ...fine, way: 'acme', trouble: true })).toContain('tried again within the hour');
  expect(pressing({ ...fine, way: 'local', trouble: true })).toContain('could not be renewed');
});
