import { useEffect, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';
import { hello } from './door';
import './start.css';

/** Why the browser keeps no app from this connection; null when it does. */
export function whyNotOffline(): 'insecure' | 'no-worker' | null {
  if (!isSecureContext) return 'insecure';
  return 'serviceWorker' in navigator ? null : 'no-worker';
}

/**
 * Whether the browser refused the app's worker because it does not trust the
 * certificate: the page is then shown after a warning, and nothing is kept.
 */
async function untrusted(): Promise<boolean> {
  if (!('serviceWorker' in navigator) || location.protocol !== 'https:') return false;
  try {
    await navigator.serviceWorker.register('/sw.js');
    return false;
  } catch (fault) {
    return fault instanceof DOMException && fault.name === 'SecurityError';
  }
}

/** Says in words why this device cannot work offline, and what to do; nothing when it can. */
export function Connection() {
  const [why, setWhy] = useState<'insecure' | 'no-worker' | 'untrusted' | null>(whyNotOffline());
  const [trust, setTrust] = useState('');
  useEffect(() => {
    if (why === null) void untrusted().then((is) => is && setWhy('untrusted'));
  }, []);
  useEffect(() => {
    if (why !== null) void hello().then((answer) => setTrust(answer.trust), () => undefined);
  }, [why]);
  if (why === null) return null;
  return (
    <section class="connection" role="note">
      <h2>{t('connection.title')}</h2>
      <p>{t(`connection.${why}`)}</p>
      {why !== 'no-worker' && <Trust address={trust} />}
    </section>
  );
}

function Trust({ address }: { address: string }) {
  if (address === '') return <p class="small soft">{t('connection.trust-none')}</p>;
  return <Button href={address}>{t('connection.trust')}</Button>;
}
