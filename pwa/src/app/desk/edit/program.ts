/** The program form: texts as typed, and the record's body made of them. */
import type { Program } from '../../../engine/types';
import { above, anyNumber, type FieldFault, notBelow, percentOf, shareOf, textOf } from '../numbers';

/** How the reject limit is given. */
export type LimitAs = 'rate' | 'drop' | 'none';

/** Every field of the form as text, so that nothing typed is lost. */
export interface ProgramForm {
  name: string;
  gas: string;
  pressure: string;
  pressureUnit: string;
  volume: string;
  volumeUnit: string;
  fill: string;
  stabilise: string;
  test: string;
  vent: string;
  limitAs: LimitAs;
  rate: string;
  rateUnit: string;
  rateRef: string;
  drop: string;
  dropUnit: string;
  allowance: string;
  background: boolean;
  showUnit: string;
  showRef: string;
}

/** The fields with something wrong. */
export type Wrongs = Partial<Record<keyof ProgramForm, FieldFault>>;

/** What a new program begins with. */
export const blank: ProgramForm = {
  name: '',
  gas: 'air',
  pressure: '',
  pressureUnit: 'kPa',
  volume: '',
  volumeUnit: 'cm3',
  fill: '',
  stabilise: '',
  test: '',
  vent: '',
  limitAs: 'rate',
  rate: '',
  rateUnit: 'std cm3/min',
  rateRef: '0C',
  drop: '',
  dropUnit: 'Pa',
  allowance: '10',
  background: false,
  showUnit: 'std cm3/min',
  showRef: '0C',
};

/** Whether a rate's unit wants reference conditions: all but the molar one. */
export function needsRef(unit: string): boolean {
  return unit !== 'mol/s';
}

/** A program as the texts of the form. */
export function formOf(program: Program): ProgramForm {
  const { limitRate: rate, limitDrop: drop } = program;
  return {
    ...blank,
    name: program.name,
    gas: program.gas,
    pressure: textOf(program.pressure.value),
    pressureUnit: program.pressure.unit,
    volume: textOf(program.volume.value),
    volumeUnit: program.volume.unit,
    fill: textOf(program.fill),
    stabilise: textOf(program.stabilise),
    test: textOf(program.test),
    vent: textOf(program.vent),
    limitAs: rate ? 'rate' : drop ? 'drop' : 'none',
    ...(rate && { rate: textOf(rate.value), rateUnit: rate.unit, rateRef: rate.ref ?? blank.rateRef }),
    ...(drop && { drop: textOf(drop.value), dropUnit: drop.unit }),
    allowance: percentOf(program.allowance),
    background: program.background,
    showUnit: program.showUnit,
    showRef: program.showRef ?? blank.showRef,
  };
}

/** The record's body, or the fields with something wrong. */
export function programOf(form: ProgramForm): { program: Program } | { wrong: Wrongs } {
  const read = {
    pressure: anyNumber(form.pressure),
    volume: above(form.volume),
    fill: notBelow(form.fill),
    stabilise: notBelow(form.stabilise),
    test: above(form.test),
    vent: notBelow(form.vent),
    allowance: shareOf(form.allowance),
    rate: form.limitAs === 'rate' ? above(form.rate) : 0,
    drop: form.limitAs === 'drop' ? above(form.drop) : 0,
  };
  if (!allRead(read)) return { wrong: faultsOf(read) };
  return { program: bodyOf(form, read) };
}

type NumberField = 'pressure' | 'volume' | 'fill' | 'stabilise' | 'test' | 'vent' | 'allowance' | 'rate' | 'drop';
type Numbers = Record<NumberField, number>;

function allRead(read: Record<NumberField, number | FieldFault>): read is Numbers {
  return Object.values(read).every((value) => typeof value === 'number');
}

function faultsOf(read: Record<NumberField, number | FieldFault>): Wrongs {
  const wrong: Wrongs = {};
  for (const field of Object.keys(read) as NumberField[]) {
    const value = read[field];
    if (typeof value === 'string') wrong[field] = value;
  }
  return wrong;
}

function bodyOf(form: ProgramForm, read: Numbers): Program {
  return {
    name: form.name.trim(),
    gas: form.gas,
    pressure: { value: read.pressure, unit: form.pressureUnit },
    volume: { value: read.volume, unit: form.volumeUnit },
    fill: read.fill,
    stabilise: read.stabilise,
    test: read.test,
    vent: read.vent,
    ...(form.limitAs === 'rate' && { limitRate: { value: read.rate, unit: form.rateUnit, ...refOf(form.rateUnit, form.rateRef, 'ref') } }),
    ...(form.limitAs === 'drop' && { limitDrop: { value: read.drop, unit: form.dropUnit } }),
    allowance: read.allowance,
    background: form.background,
    showUnit: form.showUnit,
    ...refOf(form.showUnit, form.showRef, 'showRef'),
  };
}

function refOf(unit: string, ref: string, key: 'ref' | 'showRef'): { ref?: string; showRef?: string } {
  return needsRef(unit) ? { [key]: ref } : {};
}
