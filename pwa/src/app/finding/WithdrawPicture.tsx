import { useState } from 'preact/hooks';
import type { PictureCard } from '../../engine/types';
import { Button, Field, Sheet } from '../../ui';
import { t } from '../../words';
import { useSaving } from '../save';

interface Props {
  card: PictureCard;
  site: string;
  fixture: string;
  /** What it is of: a finding, or the fixture itself. */
  of: string;
  onClose: () => void;
}

/** Asks why a picture is to go, and says what stays of it. There is no way back. */
export function WithdrawPicture({ card, site, fixture, of, onClose }: Props) {
  const [why, setWhy] = useState('');
  const { problem, save } = useSaving();
  const go = async () => {
    const written = await save([
      { kind: 'withdrawn', site, fixture, of, base: card.event, body: { why: why.trim() } },
    ]);
    if (written !== null) onClose();
  };
  return (
    <Sheet title={t('picture.withdraw')} onClose={onClose}>
      <p>{t('picture.withdraw-what')}</p>
      <p>{t('picture.withdraw-copies')}</p>
      <Field label={t('picture.why')} hint={t('picture.why-stays')} value={why} onInput={setWhy} />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={why.trim() === ''} onPress={() => void go()}>
        {t('picture.withdraw-do')}
      </Button>
    </Sheet>
  );
}
