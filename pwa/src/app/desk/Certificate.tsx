import { useEffect, useState } from 'preact/hooks';
import type { Connection, Lasting } from '../../link/types';
import { Button } from '../../ui';
import { said, t } from '../../words';
import { ofAuthority, ofCertificate, ofTrouble, pressing } from './lasting';
import { upkeep } from './upkeep';

/** How long phones can come in by this certificate, and what to do before its end. */
export function Certificate({ at }: { at: Connection | null }) {
  if (!at?.certificate) return null;
  return (
    <>
      <Line says={ofCertificate(at.certificate, at.way)} lasts={at.certificate} todo={said('upkeep', `cert-do-${at.way}`)} />
      {at.authority && <Line says={ofAuthority(at.authority)} lasts={at.authority} todo={t('upkeep.authority-do')} />}
      {at.trouble && <p class="wrong">{ofTrouble(at.way)}</p>}
    </>
  );
}

function Line({ says, lasts, todo }: { says: string; lasts: Lasting; todo: string }) {
  if (lasts.warning === 'fine') return <p>{says}</p>;
  return (
    <p class="wrong">
      {says} {todo}
    </p>
  );
}

/** What of it needs somebody, for the first page. Nothing while the server is not reached. */
export function CertificateNote() {
  const [at, setAt] = useState<Connection | null>(null);
  useEffect(() => {
    upkeep().then(({ connection }) => setAt(connection), () => undefined);
  }, []);
  const says = at && pressing(at);
  if (!says) return null;
  return (
    <Button kind="quiet" href="/upkeep">
      {says}
    </Button>
  );
}
