import { ask, useAsk } from '../../engine/client';
import type { Fixture } from '../../engine/types';
import { Button, Sheet } from '../../ui';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { copyOf } from './joint';

interface Props {
  to: Fixture;
  onCopied: () => void;
  onClose: () => void;
}

/** The joints of another fixture of this site, and its program where this one has none. */
export function CopyFrom({ to, onCopied, onClose }: Props) {
  const { answer } = useAsk('home', {});
  const { problem, save } = useSaving();
  const here = answer?.sites.find(({ id }) => id === to.site)?.fixtures.filter(({ id }) => id !== to.id) ?? [];
  const take = async (id: string) => {
    const drafts = copyOf(await ask('fixture', { id }), to);
    const written = drafts.length > 0 ? await save(drafts) : [];
    if (written === null) return;
    if (written.length > 0) {
      offerWithdrawal(t('register.copied', { n: written.length }), to.site, written);
      onCopied();
    }
    onClose();
  };
  return (
    <Sheet title={t('register.copy')} onClose={onClose}>
      <p>{t(here.length === 0 ? 'register.copy-none' : 'register.copy-what')}</p>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      {here.map(({ id, name, place }) => (
        <Button key={id} onPress={() => void take(id)}>
          {[name, place].filter(Boolean).join(' · ')}
        </Button>
      ))}
    </Sheet>
  );
}
