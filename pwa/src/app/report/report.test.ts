import { expect, test, vi } from 'vitest';
import type { Status } from '../../engine/client';
import { note, noted, noteOf } from '../../engine/errors';
import { Fault } from '../../engine/fault';
import { type Device, reportText } from './report';

/** What must never be in a report: a session, an invitation's code, a PIN's hash, a person's name, and what a record says. */
const secrets = {
  session: '6f1d9f3c2b7a48e0a1c4',
  invitation: 'K7QM-2XRV-9THD',
  pin: '$argon2id$v=19$m=19456$c2FsdA$aGFzaGVk',
  name: 'Wilhelmina Plantedname',
  record: 'rear clamp weeps behind the cowl',
};
const all = Object.values(secrets);

const device: Device = {
  agent: 'a browser', language: 'en', screen: '390 × 844', window: '390 × 700', ratio: 3, touch: 5, installed: true, online: true, used: 1, free: 2,
};
const dress = { theme: 'light', hand: 'right', gloves: 'off', language: 'en' };

/** A status in which every text is the secret. */
function planted(secret: string): Status {
  const lostLog = { log: secret, told: 7, upto: 5 };
  const me = {
    person: { id: secret, name: secret }, device: { id: secret, name: secret }, installation: secret,
    sites: [{ id: secret, name: secret }], mates: [{ id: secret, name: secret }], duties: [{ site: secret, duty: secret }],
  };
  const texts = ['storage', 'reach', 'problem', 'tooOld', 'server', 'version', 'installation', 'log', 'oldest', 'oldestPicture', 'synced'];
  return {
    ...Object.fromEntries(texts.map((name) => [name, secret])),
    me, lostLog, hello: { version: secret, installation: secret, trust: secret, needsSetup: false, secure: true },
    signedOut: false, revoked: false, secure: true, needsSetup: false, promised: true,
    restarts: 1, unsent: 4, unsentPictures: 2, asides: 3, damage: 0, lost: 0, clockOffsetMs: 120,
  } as unknown as Status;
}

function told(status: Status, errors = [] as ReturnType<typeof noted>): string {
  return reportText({ at: '2026-03-04T12:00:00.000Z', app: '0123456789ab', status, device, dress, errors, words: '' });
}

test.each(all)('nothing of the state carries a secret: %s', (secret) => {
  expect(told(planted(secret))).not.toContain(secret);
});

test.each(all)('no error carries a secret: %s', (secret) => {
  const kinds = [new Error(secret), new TypeError(`no ${secret}`), new Fault(secret, secret, 500, secret), secret, { name: secret, code: secret }];
  const named = Object.assign(new Error(secret), { name: secret, stack: `${secret}: ${secret}\n at ${secret} (https://host/join#${secret})` });
  const lines = [...kinds, named].map((thrown) => noteOf(thrown, secret));
  expect(JSON.stringify(lines)).not.toContain(secret);
});

test('what somebody else wrote into the place of the errors does not get in', () => {
  vi.stubGlobal('localStorage', { getItem: () => JSON.stringify(all.map((secret) => ({ at: secret, kind: secret, code: secret, places: [secret], more: secret }))) });
  for (const secret of all) expect(JSON.stringify(noted())).not.toContain(secret);
  vi.unstubAllGlobals();
});

test('an error tells its kind, its code and where in the app', () => {
  const thrown = Object.assign(new TypeError('x of undefined'), { stack: 'TypeError: x\n at f (https://host/assets/Leak-4bC_d.js:2:345)\n at https://host/sw.js:1:2' });
  expect(noteOf(thrown, '2026-03-04T12:00:00.000Z')).toEqual({
    at: '2026-03-04T12:00:00.000Z', kind: 'TypeError', code: '', places: ['Leak-4bC_d.js:2:345', 'sw.js:1:2'],
  });
  expect(noteOf(new Fault('engine-broken', 'x'), '')).toMatchObject({ kind: 'Fault', code: 'engine-broken' });
});

test('the last errors are kept, a dozen', () => {
  let kept: string | null = null;
  vi.stubGlobal('localStorage', { getItem: () => kept, setItem: (_: string, value: string) => (kept = value) });
  for (let n = 0; n < 20; n++) note(new RangeError(String(n)));
  expect(noted()).toHaveLength(12);
  expect(noted()[0]).toMatchObject({ kind: 'RangeError' });
  vi.unstubAllGlobals();
});

test('a report tells what whoever mends needs', () => {
  const status = { ...planted(''), storage: 'kept', reach: 'offline', problem: 'server-full', server: 'fedcba987654', synced: '2026-03-04T11:00:00Z' } as Status;
  const report = JSON.parse(told(status)) as Record<string, unknown>;
  expect(report).toMatchObject({
    versions: { app: '0123456789ab', server: 'fedcba987654' },
    keeping: { storage: 'kept', restarts: 1, lostLog: { told: 7, upto: 5 } },
    sending: { reach: 'offline', unsent: 4, unsentPictures: 2, asides: 3, problem: 'server-full', synced: '2026-03-04T11:00:00Z' },
  });
});
