import { useState } from 'preact/hooks';
import { Button, Field } from '../../ui';
import { t } from '../../words';
import { Grant, grantsAny, places } from './Grant';
import { type Grants, type Invitation, invite } from './people';
import { refusal } from './sites';

interface Props {
  onMade: (name: string, invitation: Invitation) => void;
  onCancel: () => void;
}

/** Whom to invite: name, what they do, where. */
export function InviteForm({ onMade, onCancel }: Props) {
  const [name, setName] = useState('');
  const [chosen, setGrants] = useState<Grants | null>(null);
  const [wrong, setWrong] = useState('');
  const grants = chosen ?? usual(); // which is known a moment after the screen
  const go = async () => {
    const lacks = name.trim() === '' ? t('people.no-name') : grantsAny(grants) ? '' : t('people.no-duty');
    setWrong(lacks);
    if (lacks !== '') return;
    try {
      onMade(name.trim(), await invite({ name: name.trim(), grants }));
    } catch (fault) {
      setWrong(refusal(fault));
    }
  };
  return (
    <section class="form narrow" aria-label={t('people.invite')}>
      <h2>{t('people.invite')}</h2>
      <Field label={t('people.name')} value={name} onInput={setName} />
      <Grant grants={grants} onChange={setGrants} />
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

/** What most are invited for: recording, at the first place that may be given. */
function usual(): Grants {
  const [first] = places();
  return first === undefined ? {} : { [first.id]: ['technician'] };
}
