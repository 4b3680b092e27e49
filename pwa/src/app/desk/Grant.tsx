import { status } from '../../engine/client';
import { said, t } from '../../words';
import { supervises, supervisesAll } from '../duty';
import { duties, type Duty, type Grants } from './people';
import { Several } from './Several';

interface Props {
  grants: Grants;
  onChange: (grants: Grants) => void;
}

/** Choosing what somebody does, place by place: everywhere, and at each site where one supervises. */
export function Grant({ grants, onChange }: Props) {
  return (
    <fieldset class="grants">
      <legend class="strong">{t('people.grants')}</legend>
      {places().map(({ id, name }) => (
        <Several
          key={id}
          legend={name}
          options={duties.map((value) => ({ value, words: said('duty', value) }))}
          chosen={grants[id] ?? []}
          onChoose={(does: Duty[]) => onChange({ ...grants, [id]: does })}
        />
      ))}
    </fieldset>
  );
}

/** Where the one who chooses may grant something. */
export function places(): { id: string; name: string }[] {
  const own = (status.value.me?.sites ?? []).filter(({ id }) => supervises(id));
  return [...(supervisesAll() ? [{ id: '*', name: t('people.sites-all') }] : []), ...own];
}

/** What is granted of it where the one who chooses may: nobody speaks of other sites. */
export function within(grants: Grants): Grants {
  return Object.fromEntries(places().map(({ id }) => [id, grants[id] ?? []]));
}

/** Whether it grants anything. */
export const grantsAny = (grants: Grants) => Object.values(grants).some((does) => does.length > 0);
