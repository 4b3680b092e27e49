import { useState } from 'preact/hooks';
import { Button, Field } from '../../ui';
import { t } from '../../words';
import { Grant, type Granted, lacking } from './Grant';
import { type Invitation, invite } from './people';
import { refusal } from './sites';

interface Props {
  onMade: (name: string, invitation: Invitation) => void;
  onCancel: () => void;
}

/** Whom to invite: name, what they do, where. */
export function InviteForm({ onMade, onCancel }: Props) {
  const [name, setName] = useState('');
  const [granted, setGranted] = useState<Granted>({ duties: ['technician'], sites: ['*'] });
  const [wrong, setWrong] = useState('');
  const go = async () => {
    const lacks = name.trim() === '' ? t('people.no-name') : lacking(granted);
    setWrong(lacks);
    if (lacks !== '') return;
    try {
      onMade(name.trim(), await invite({ name: name.trim(), ...granted }));
    } catch (fault) {
      setWrong(refusal(fault));
    }
  };
  return (
    <section class="form narrow" aria-label={t('people.invite')}>
      <h2>{t('people.invite')}</h2>
      <Field label={t('people.name')} value={name} onInput={setName} />
      <Grant granted={granted} onChange={setGranted} />
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <div class="beside-each">
        <Button kind="main" onPress={() => void go()}>
          {t('people.make')}
        </Button>
        <Button kind="quiet" onPress={onCancel}>
          {t('cancel')}
        </Button>
      </div>
    </section>
  );
}
