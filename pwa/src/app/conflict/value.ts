/** The value that somebody gave a field, in words. */
import { status } from '../../engine/client';
import type { Amount, Observation, Pin, Program } from '../../engine/types';
import { num, said, t } from '../../words';
import { observed } from '../finding/observed';
import { amount } from '../round/conditions';

/** Fields whose value is a code, and the family of their words. */
const families: Record<string, string> = {
  kind: 'kind', circuit: 'circuit', result: 'result', wiped: 'wiped', vented: 'vented', gas: 'gas', cause: 'cause', action: 'action', when: 'when', verdict: 'verdict',
};

/** A side's value in words; a field that this version does not know is shown as it stands. */
export function valueWords(field: string, value: unknown): string {
  if (value === '' || value === null) return t('conflict.empty');
  if (field === 'tube') return amount(value as Amount);
  if (field === 'order') return t('conflict.order', { n: num(Number(value)) });
  if (field === 'site') return siteName(String(value));
  if (field === 'observation') return observed(value as Observation);
  if (field === 'pin') return pinWords(value as Pin);
  if (field === 'program') return programWords(value as Program);
  const family = families[field];
  if (family !== undefined) return said(family, String(value));
  return typeof value === 'string' ? value : JSON.stringify(value);
}

/** Which photo, by the first letters of its hash, and where in it. */
function pinWords({ photo, x, y }: Pin): string {
  if (photo === '') return t('pins.nowhere');
  return t('pins.number', { name: photo.slice(0, 4), x: Math.round(100 * x), y: Math.round(100 * y) });
}

function siteName(id: string): string {
  return status.value.me?.sites.find((site) => site.id === id)?.name ?? t('conflict.other-site');
}

function programWords({ name, gas, pressure, volume, fill, stabilise, test, vent, limitRate, limitDrop }: Program): string {
  const limit = limitRate ?? limitDrop;
  const parts = [
    name,
    `${said('gas', gas)}, ${amount(pressure)}`,
    amount(volume),
    t('program.timesValue', { fill, stabilise, test, vent }),
    limit ? `${t('program.limit')} ${num(limit.value)} ${said('unit', limit.unit)}` : '',
  ];
  return parts.filter(Boolean).join(' · ');
}
