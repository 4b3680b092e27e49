import { useState } from 'preact/hooks';
import { Button } from '../../ui';
import { t } from '../../words';
import { Grant, grantsAny, within } from './Grant';
import { changePerson, type Grants, type Person } from './people';
import { refusal } from './sites';

/** What somebody does and where, to be changed. */
export function ChangeForm({ person, onDone }: { person: Person; onDone: () => void }) {
  const [chosen, setGrants] = useState<Grants | null>(null);
  const [wrong, setWrong] = useState('');
  const grants = chosen ?? within(person.grants); // the places are known a moment after the screen
  const title = t('people.change-of', { name: person.name });
  const go = () => {
    setWrong('');
    changePerson(person.id, grants).then(onDone, (fault: unknown) => setWrong(refusal(fault)));
  };
  return (
    <section class="form narrow" aria-label={title}>
      <h2>{title}</h2>
      <Grant grants={grants} onChange={setGrants} />
      {!grantsAny({ ...person.grants, ...grants }) && <p class="small">{t('people.nowhere-then')}</p>}
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
