import { useEffect, useState } from 'preact/hooks';
import { type Fixture, vocabulary } from '../../../engine/types';
import { Button, Choice, Field, Select } from '../../../ui';
import { said, t } from '../../../words';
import { useSaving } from '../../save';
import { Limit } from './Limit';
import { options } from './options';
import { Rates } from './Rates';
import { blank, formOf, type ProgramForm, programOf, type Wrongs } from './program';
import { Units } from './Units';

/** What the parts of the form are given. */
export interface FormPart {
  form: ProgramForm;
  wrong: Wrongs;
  set: (change: Partial<ProgramForm>) => void;
}

/** How a fixture is tested: the form of its program. */
export function ProgramEdit({ fixture }: { fixture: Fixture }) {
  const { form, base, set, saved } = useForm(fixture);
  const [wrong, setWrong] = useState<Wrongs>({});
  const { problem, save } = useSaving();
  const part: FormPart = { form, wrong, set };
  const go = async () => {
    const read = programOf(form);
    setWrong('wrong' in read ? read.wrong : {});
    if ('wrong' in read) return;
    const { site, id } = fixture;
    const written = await save([{ kind: 'program-set', site, fixture: id, body: read.program, ...(base && { base }) }]);
    if (written?.[0] !== undefined) saved(written[0].id);
  };
  return (
    <section class="form" aria-label={t('tested.title')}>
      <h2>{t('tested.title')}</h2>
      <p>{stands(fixture)}</p>
      <Field label={t('tested.name')} value={form.name} onInput={(name) => part.set({ name })} />
      <Select
        label={t('tested.gas')}
        options={options('gas', vocabulary.gases)}
        value={form.gas}
        onChoose={(gas) => part.set({ gas })}
      />
      <Measures {...part} />
      <Times {...part} />
      <Limit {...part} />
      <Choice
        legend={t('tested.background')}
        slim
        options={(['no', 'yes'] as const).map((value) => ({ value, words: t(`tested.background-${value}`) }))}
        value={form.background ? 'yes' : 'no'}
        onChoose={(value) => part.set({ background: value === 'yes' })}
      />
      <Rates
        label={t('tested.show')}
        unit={form.showUnit}
        reference={form.showRef}
        onUnit={(showUnit) => part.set({ showUnit })}
        onReference={(showRef) => part.set({ showRef })}
      />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button onPress={() => void go()}>{t('tested.save')}</Button>
    </section>
  );
}

/** What was typed: the program it started from, and the event that saved it, once it was. */
interface Typed {
  form: ProgramForm;
  base: string | undefined;
  savedAs?: string;
}

/** What stands in the form (a first program starts from the fixture, so that two of them are a conflict): the fixture's program until something is typed, then what is typed, whatever comes in. */
function useForm({ program, base: first }: Fixture) {
  const [typed, setTyped] = useState<Typed | null>(null);
  useEffect(() => {
    if (typed?.savedAs !== undefined && typed.savedAs === program?.id) setTyped(null);
  }, [program?.id, typed?.savedAs]);
  const now: Typed = typed ?? { form: program ? formOf(program.program) : blank, base: program?.id ?? first };
  const base = now.savedAs ?? now.base;
  const set = (change: Partial<ProgramForm>) => setTyped({ form: { ...now.form, ...change }, base });
  const saved = (as: string) => setTyped({ ...now, savedAs: as });
  return { form: now.form, base, set, saved };
}

function stands({ program }: Fixture): string {
  if (program === undefined) return t('tested.none');
  const { limit, allowance, unit } = program;
  return limit === '' ? t('tested.none') : t('tested.says', { limit, allowance, unit: said('unit', unit) });
}

function Measures({ form, wrong, set }: FormPart) {
  return (
    <div class="pair-of">
      <Field
        label={t('tested.pressure')}
        hint={t('tested.pressure-hint')}
        type="number"
        value={form.pressure}
        onInput={(pressure) => set({ pressure })}
        {...faultOf(wrong, 'pressure')}
        beside={
          <Units
            of={t('tested.pressure')}
            units={vocabulary.pressureUnits}
            value={form.pressureUnit}
            onChoose={(pressureUnit) => set({ pressureUnit })}
          />
        }
      />
      <Field
        label={t('tested.volume')}
        type="number"
        value={form.volume}
        onInput={(volume) => set({ volume })}
        {...faultOf(wrong, 'volume')}
        beside={
          <Units
            of={t('tested.volume')}
            units={vocabulary.volumeUnits}
            value={form.volumeUnit}
            onChoose={(volumeUnit) => set({ volumeUnit })}
          />
        }
      />
    </div>
  );
}

function Times({ form, wrong, set }: FormPart) {
  return (
    <fieldset>
      <legend class="small soft">{t('tested.times')}</legend>
      <div class="times">
        {(['fill', 'stabilise', 'test', 'vent'] as const).map((time) => (
          <Field
            key={time}
            label={t(`tested.${time}`)}
            type="number"
            value={form[time]}
            onInput={(value) => set({ [time]: value })}
            {...faultOf(wrong, time)}
            beside={<span>{said('unit', 's')}</span>}
          />
        ))}
      </div>
    </fieldset>
  );
}

/** The words of what is wrong with a field, as a property; none while it is right. */
export function faultOf(wrong: Wrongs, field: keyof ProgramForm): { wrong?: string } {
  const fault = wrong[field];
  return fault === undefined ? {} : { wrong: t(`fault-field.${fault}`) };
}
