/** Times as a person says them: from RFC 3339 in UTC to the device's own clock. */
import { formOf } from './form';

/** A day and time: "3 Mar 2026, 14:05". An unreadable time comes back as it is. */
export function moment(time: string): string {
  return formatted(time, { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
}

/** A day: "3 Mar 2026". */
export function day(time: string): string {
  return formatted(time, { day: 'numeric', month: 'short', year: 'numeric' });
}

/** A day where room is short: "3 Mar 26". */
export function shortDay(time: string): string {
  return formatted(time, { day: 'numeric', month: 'short', year: '2-digit' });
}

const steps: [Intl.RelativeTimeFormatUnit, number][] = [
  ['day', 86_400_000],
  ['hour', 3_600_000],
  ['minute', 60_000],
];

/** How long ago a time was: "3 days ago"; what is less than a minute ago, or still to come, is "0 minutes ago". */
export function ago(time: string, now: number = Date.now()): string {
  const age = Math.max(0, now - new Date(time).getTime());
  if (Number.isNaN(age)) return time;
  const [unit, length] = steps.find(([, least]) => age >= least) ?? (['minute', 60_000] as const);
  return formOf('ago', (language) => new Intl.RelativeTimeFormat(language, { numeric: 'always' })).format(-Math.floor(age / length), unit);
}

/** A stretch of time as its largest unit: "3 minutes", "2 days". */
export function lasting(ms: number): string {
  const [unit, length] = [...steps, ['second', 1000] as const].find(([, least]) => ms >= least) ?? (['second', 1000] as const);
  const form = formOf(`lasting ${unit}`, (language) => new Intl.NumberFormat(language, { style: 'unit', unit, unitDisplay: 'long', maximumFractionDigits: 0 }));
  return form.format(Math.floor(ms / length));
}

/** Seconds on a clock: "0:07", "12:30". */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

function formatted(time: string, form: Intl.DateTimeFormatOptions): string {
  const date = new Date(time);
  if (Number.isNaN(date.getTime())) return time;
  const way = `date ${date.getTimezoneOffset()} ${Object.entries(form).join(' ')}`; // who travels has another clock
  return formOf(way, (language) => new Intl.DateTimeFormat(language === 'en' ? 'en-GB' : language, form)).format(date);
}
