import { useEffect, useState } from 'preact/hooks';
import { changed, named, status } from '../../engine/client';
import { asides, type SetAside } from '../../link/asides';

/** What was set aside, from the server; asked again when something moved. */
export interface Asides {
  list: SetAside[] | null;
  /** The code of what went wrong. */
  fault: string;
  again: () => void;
}

/** Asks the server for what was set aside. */
export function useAsides(): Asides {
  const [list, setList] = useState<SetAside[] | null>(null);
  const [fault, setFault] = useState('');
  const [turn, setTurn] = useState(0);
  const { reach } = status.value;
  useEffect(() => {
    let current = true;
    asides().then(
      (told) => {
        if (!current) return;
        setList(told);
        setFault('');
      },
      (thrown: unknown) => current && setFault(named(thrown)),
    );
    return () => {
      current = false;
    };
  }, [turn, reach, changed.value]);
  return { list, fault, again: () => setTurn(turn + 1) };
}
