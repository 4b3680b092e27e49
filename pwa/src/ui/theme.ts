/**
 * How the app looks on this device: theme, hand and sound. Kept in the
 * browser; losing the choice costs nothing.
 */
import { effect, signal } from '@preact/signals';

export const themes = ['light', 'dark', 'outdoor'] as const;
export type Theme = (typeof themes)[number];

export const hands = ['right', 'left'] as const;
export type Hand = (typeof hands)[number];

export const sounds = ['on', 'off'] as const;
export type Sound = (typeof sounds)[number];

export const orders = ['place', 'photo'] as const;
export type Order = (typeof orders)[number];

export const gloved = ['off', 'on'] as const;
export type Gloves = (typeof gloved)[number];

export const lengthUnits = ['mm', 'in'] as const;
export type LengthUnit = (typeof lengthUnits)[number];

/** Light for sun, dark for night shifts, outdoor with nothing under 7:1. */
export const theme = signal<Theme>(kept('theme', themes));
/** The hand that holds the phone; the left mirrors what stands beside the main act. */
export const hand = signal<Hand>(kept('hand', hands));
/** Whether gloves are worn: then all that is pressed is larger. */
export const gloves = signal<Gloves>(kept('gloves', gloved));
/** Whether counting is heard. */
export const sound = signal<Sound>(kept('sound', sounds));

/** In which order joints are looked at. */
export const order = signal<Order>(kept('order', orders));

/** The units in which lengths are given. */
export const lengths = signal<LengthUnit>(kept('lengths', lengthUnits));

/** Put the choices on the page, now and whenever they change. */
export function dress(): void {
  effect(() => wear('theme', theme.value));
  effect(() => wear('hand', hand.value));
  effect(() => wear('gloves', gloves.value));
  effect(() => wear('sound', sound.value));
  effect(() => wear('order', order.value));
  effect(() => wear('lengths', lengths.value));
}

function wear(name: string, value: string): void {
  document.documentElement.dataset[name] = value;
  try {
    localStorage.setItem(`jointwalk-${name}`, value);
  } catch {
    // Nothing is kept in this browser; the choice lasts until it is closed.
  }
}

function kept<Value extends string>(name: string, values: readonly [Value, ...Value[]]): Value {
  try {
    const value = localStorage.getItem(`jointwalk-${name}`);
    return values.find((one) => one === value) ?? values[0];
  } catch {
    return values[0];
  }
}
