/** Times as a person says them: from RFC 3339 in UTC to the device's own clock. */
import { language } from './language';

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

/** Seconds on a clock: "0:07", "12:30". */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

function formatted(time: string, form: Intl.DateTimeFormatOptions): string {
  const date = new Date(time);
  if (Number.isNaN(date.getTime())) return time;
  return new Intl.DateTimeFormat(language.value === 'en' ? 'en-GB' : language.value, form).format(date);
}
