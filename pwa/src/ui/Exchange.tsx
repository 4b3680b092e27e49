import { type Status, status, stopSync } from '../engine/client';
import { said } from '../words';
import { Going } from './Going';

/** What the exchange with the server is at where that takes long, and a way to stop it. */
export function Exchange() {
  const { doing } = status.value;
  if (!doing) return null;
  return <Going says={doingWords(doing)} done={doing.gone} of={doing.of} onStop={() => void stopSync()} />;
}

/** How far the exchange is, in words. */
export function doingWords({ what, done, of }: NonNullable<Status['doing']>): string {
  return of > 0 ? said('going', what, { done, of }) : said('going-far', what, { done });
}
