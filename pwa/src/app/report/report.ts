/**
 * A report about a problem. Each line of it is named here one by one, so that nothing else gets in: no name, no session, no
 * code, no record, no picture. What is text is taken only where it looks as it must.
 */
import type { Status } from '../../engine/client';
import { codeLike, type Noted } from '../../engine/errors';

/** What the browser says of the device. */
export interface Device {
  agent: string;
  language: string;
  /** Of the screen and of the window, in CSS pixels: "390 × 844". */
  screen: string;
  window: string;
  ratio: number;
  touch: number;
  installed: boolean;
  online: boolean;
  /** Bytes; null where the browser does not say. */
  used: number | null;
  free: number | null;
}

/** How the app looks there. */
export type Dress = Readonly<Record<'theme' | 'hand' | 'gloves' | 'language', string>>;

/** What a report is made of. */
export interface Told {
  at: string;
  app: string;
  status: Status;
  device: Device;
  dress: Dress;
  errors: readonly Noted[];
  /** What the person wrote. */
  words: string;
}

const storages = ['starting', 'kept', 'memory', 'full', 'elsewhere', 'broken'];
const reaches = ['unknown', 'reached', 'offline'];

/** The report as the text of its file: what is shown is what leaves. */
export function reportText({ at, app, status, device, dress, errors, words }: Told): string {
  const report = {
    jointwalk: 'report',
    v: 1,
    at: timeOf(at),
    words,
    versions: { app: versionOf(app), server: versionOf(status.server || status.version) },
    device,
    dress,
    keeping: keeping(status),
    sending: sending(status),
    errors,
  };
  return `${JSON.stringify(report, null, 2)}\n`;
}

function keeping({ storage, promised, restarts, damage, lost, lostLog, secure }: Status) {
  return {
    storage: oneOf(storages, storage),
    promised,
    secure,
    restarts,
    damage,
    lost,
    lostLog: lostLog && { told: lostLog.told, upto: lostLog.upto },
  };
}

function sending(status: Status) {
  const { reach, signedOut, revoked, unsent, unsentPictures, oldest, oldestPicture, asides, tooOld, problem, clockOffsetMs, synced } = status;
  return {
    reach: oneOf(reaches, reach),
    signedOut,
    revoked,
    unsent,
    unsentPictures,
    oldest: timeOf(oldest),
    oldestPicture: timeOf(oldestPicture),
    asides,
    tooOld: oneOf(['app', 'server'], tooOld),
    problem: codeLike(problem),
    clockOffsetMs,
    synced: timeOf(synced),
  };
}

function oneOf(known: readonly string[], value: string): string {
  return known.includes(value) ? value : '';
}

function timeOf(text: string | undefined): string {
  return text !== undefined && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(text) ? text : '';
}

/** A version is the revision it was built from: twelve digits, fewer than any secret of ours has. */
function versionOf(text: string): string {
  return /^([0-9a-f]{12}|unknown)$/.test(text) ? text : '';
}
