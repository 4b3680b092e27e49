/** The English catalogue. Its keys are the codes that `t` takes. */
import { common } from './en/common';
import { codes } from './en/codes';
import { desk } from './en/desk';
import { finding } from './en/finding';
import { look } from './en/look';
import { phone } from './en/phone';
import { round } from './en/round';
import { says } from './en/says';
import { scan } from './en/scan';
import { settle } from './en/settle';
import { start } from './en/start';

export const en = { ...common, ...codes, ...says, ...look, ...round, ...scan, ...start, ...desk, ...finding, ...phone, ...settle };

/** A code that has words in every language. */
export type Code = keyof typeof en;
