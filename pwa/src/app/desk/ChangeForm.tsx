import { useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';
import { Grant, type Granted, lacking } from './Grant';
import { changePerson, type Person } from './people';
import { refusal } from './sites';

/** What somebody does and where, to be changed. */
export function ChangeForm({ person, onDone }: { person: Person; onDone: () => void }) {
  const [granted, setGranted] = useState<Granted>(person);
  const [wrong, setWrong] = useState('');
  const title = t('people.change-of', { name: person.name });
  const go = () => {
    const lacks = lacking(granted);
    setWrong(lacks);
    if (lacks === '') changePerson(person.id, granted).then(onDone, (fault: unknown) => setWrong(refusal(fault)));
  };
  return (
    <section class="form narrow" aria-label={title}>
      <h2>{title}</h2>
      <Grant granted={granted} onChange={setGranted} />
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <div class="beside-each">
        <Button kind="main" onPress={go}>
          {t('save')}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {t('cancel')}
        </Button>
      </div>
    </section>
  );
}
