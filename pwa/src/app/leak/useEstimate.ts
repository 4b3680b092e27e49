import { useEffect, useState } from 'preact/hooks';
import { ask } from '../../engine/client';
import type { EstimateAnswer, Observation } from '../../engine/types';

/** How long the numbers must stand still before they are asked about, in ms. */
const pause = 100;

/** What an observation says, asked anew as it changes; null while there is none. */
export function useEstimate(round: string, joint: string, observation: Observation | null): EstimateAnswer | null {
  const [answer, setAnswer] = useState<EstimateAnswer | null>(null);
  const text = JSON.stringify(observation);
  useEffect(() => {
    if (observation === null) {
      setAnswer(null);
      return;
    }
    let current = true;
    const keep = (next: EstimateAnswer | null) => {
      if (current) setAnswer(next);
    };
    const timer = setTimeout(() => {
      ask('estimate', { round, joint, observation }).then(keep, () => keep(null));
    }, pause);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [round, joint, text]);
  return answer;
}
