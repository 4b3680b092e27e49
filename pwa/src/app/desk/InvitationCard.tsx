import { useEffect, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';
import { clock } from '../../words/when';
import './desk.css';
import { type Invitation, type Taking, takingOf } from './people';

interface Props {
  name: string;
  invitation: Invitation;
}

/** An invitation to show once: its QR code, its code, its link, the time it has left. */
export function InvitationCard({ name, invitation }: Props) {
  const left = useLeft(invitation.expires);
  const { state, device } = useTaking(invitation.id);
  if (state === 'used') return <p class="strong" role="status">{t('people.taken', { name, device })}</p>;
  if (state === 'blocked') return <p class="wrong" role="alert">{t('people.blocked')}</p>;
  if (left <= 0) return <p class="wrong" role="alert">{t('people.over')}</p>;
  return (
    <section class="invitation" aria-label={t('people.invitation', { name })}>
      <h2>{t('people.invitation', { name })}</h2>
      <p>{t('people.invitation-what')}</p>
      <img class="qr" alt={t('people.qr', { name })} src={`data:image/svg+xml,${encodeURIComponent(invitation.qr)}`} />
      <div class="form">
        <p class="small soft">{t('people.code')}</p>
        <p class="tag-code">{invitation.code}</p>
        <p role="timer">{t('people.left', { time: clock(left) })}</p>
        <p class="small soft">{t('people.link')}</p>
        <p class="link">{invitation.link}</p>
        <Copy text={invitation.link} />
      </div>
    </section>
  );
}

function Copy({ text }: { text: string }) {
  const [done, setDone] = useState(false);
  if (navigator.clipboard === undefined) return null;
  const copy = () => navigator.clipboard.writeText(text).then(() => setDone(true), () => undefined);
  return (
    <Button kind="quiet" onPress={() => void copy()}>
      {t(done ? 'people.copied' : 'people.copy')}
    </Button>
  );
}

/** Seconds until a moment, counted down. */
function useLeft(expires: string): number {
  const until = () => (new Date(expires).getTime() - Date.now()) / 1000;
  const [left, setLeft] = useState(until);
  useEffect(() => {
    const timer = setInterval(() => setLeft(until()), 1000);
    return () => clearInterval(timer);
  }, [expires]);
  return left;
}

const often = 2000; // ms

/** What came of an invitation, asked while it waits. */
function useTaking(id: string): Taking {
  const [taking, setTaking] = useState<Taking>({ state: 'waiting', device: '' });
  useEffect(() => {
    if (taking.state !== 'waiting') return;
    const timer = setInterval(() => void takingOf(id).then(setTaking, () => undefined), often);
    return () => clearInterval(timer);
  }, [id, taking.state]);
  return taking;
}
