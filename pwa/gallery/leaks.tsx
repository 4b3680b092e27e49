import { EstimateMore, EstimateView } from '../src/app/leak/EstimateView';
import '../src/app/leak/leak.css';
import type { Estimate } from '../src/engine/types';
import { figure } from './samples';
import type { Exhibit } from './Shelf';

const estimate: Estimate = {
  figure, share: { median: '17', low: '8.3', high: '33' }, ofAllowance: { median: '173', low: '83', high: '330' },
  flow: { median: '6.1', low: '2.9', high: '11.7' }, dominant: 'size', advice: 'size-again', warnings: ['few-bubbles', 'size-vague'],
};

/** What a leak says. */
export const leaks: Exhibit[] = [
  { name: 'estimate', shown: <EstimateView estimate={estimate} /> },
  { name: 'estimate, no limit', shown: <EstimateView estimate={{ figure }} low /> },
  { name: 'estimate, cannot say', shown: <EstimateView estimate={{ cannotSay: 'size-not-positive' }} /> },
  { name: 'what narrows it', shown: <EstimateMore estimate={{ ...estimate, byEye: true }} /> },
  { name: 'what narrows it, by gas collected', shown: <EstimateMore estimate={{ ...estimate, dominant: 'volume', warnings: [] }} /> },
];
