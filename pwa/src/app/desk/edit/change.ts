/** What an edit of a joint carries: the fields that differ, and what it has seen. */
import type { Amount, JointCard, JointEdit } from '../../../engine/types';

/** The fields of a form for a joint. */
interface Fields {
  name: string;
  kind: string;
  circuit: string;
  tube?: Amount;
  /** The run of tube that it sits on, '' for none. */
  run: string;
}

/** The fields that differ from the joint's: what is not named stays, and cannot stand against another's change. */
export function changed(joint: JointCard, { name, kind, circuit, tube, run }: Fields): JointEdit {
  const same = tube === undefined || (tube.value === joint.tube?.value && tube.unit === joint.tube.unit);
  return {
    ...(name !== joint.name && { name }),
    ...(kind !== joint.kind && { kind }),
    ...(circuit !== joint.circuit && { circuit }),
    ...(!same && { tube }),
    ...(run !== (joint.run ?? '') && { run }),
  };
}

/** The events besides its base that an edit has seen; nothing where there are none. */
export function seenOf({ seen }: { seen?: string[] }): { seen?: string[] } {
  return seen ? { seen } : {};
}
