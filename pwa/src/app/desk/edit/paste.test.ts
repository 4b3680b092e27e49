import { describe, expect, it } from 'vitest';
import { codeOf, type Names, parse, sizeOf } from './paste';

const kinds: Names = [
  { code: 'compression', words: ['compression fitting', 'racor de compresión'] },
  { code: 'pipe-thread', words: ['pipe thread', 'rosca de tubo'] },
  { code: 'valve-seat', words: ['valve seat', 'asiento de válvula'] },
  { code: 'valve-stem', words: ['valve stem', 'vástago de válvula'] },
];
const circuits: Names = [
  { code: 'test', words: ['test side', 'lado de prueba'] },
  { code: 'supply', words: ['supply', 'alimentación'] },
];

function one(line: string) {
  return parse(line, kinds, circuits)[0];
}

describe('a pasted list', () => {
  it('reads name, kind, circuit and size, by semicolons or tabs', () => {
    const wanted = { line: 1, name: 'Tube at the filler', kind: 'compression', circuit: 'supply', tube: { value: 6, unit: 'mm' }, misread: [] };
    expect(one('Tube at the filler; compression fitting; supply; 6 mm')).toEqual(wanted);
    expect(one('Tube at the filler\tcompression\tSupply\t6')).toEqual(wanted);
  });

  it('reads the run of tube that a joint sits on', () => {
    expect(one('A; valve seat; test; 6 mm; hose A')).toMatchObject({ run: 'hose A', tube: { value: 6, unit: 'mm' }, misread: [] });
    expect(one('A; valve seat;;; hose A')).toMatchObject({ run: 'hose A', circuit: 'test', misread: [] });
    const runs = parse('A; valve seat;;; hose a\nB; valve seat;;; Tube 1\nC; valve seat;;; tube 1', kinds, circuits, ['Hose A']).map(({ run }) => run);
    expect(runs).toEqual(['Hose A', 'Tube 1', 'Tube 1']);
  });

  it('keeps the numbers of the lines and leaves out empty ones', () => {
    const lines = parse('\nA; valve seat\r\n\n  \nB; valve stem\n', kinds, circuits).map(({ line, name }) => [line, name]);
    expect(lines).toEqual([[2, 'A'], [5, 'B']]);
  });

  it('takes a joint without a circuit for one of the test side', () => {
    expect(one('A; valve seat')).toMatchObject({ circuit: 'test', misread: [] });
  });

  it('says what it did not understand and chooses nothing for it', () => {
    expect(one('A; valve; cooling; thick; hose A; and; more')).toMatchObject({
      kind: '',
      circuit: '',
      misread: [
        { what: 'kind', text: 'valve' },
        { what: 'circuit', text: 'cooling' },
        { what: 'size', text: 'thick' },
        { what: 'more', text: 'and; more' },
      ],
    });
    expect(one('; valve seat')).toMatchObject({ misread: [{ what: 'name', text: '' }] });
    expect(one('A')).toMatchObject({ misread: [{ what: 'kind', text: '' }] });
  });

  it('knows a word in any language, by its code, without accents, or by its beginning', () => {
    for (const text of ['pipe-thread', 'PIPE THREAD', 'rosca de tubo', 'Pipe']) expect(codeOf(text, kinds)).toBe('pipe-thread');
    expect(codeOf('asiento de valvula', kinds)).toBe('valve-seat');
    expect(codeOf('val', kinds)).toBe('');
  });
});

describe('a size', () => {
  it('takes commas, dots and fractions', () => {
    expect(sizeOf('6,35')).toEqual({ value: 6.35, unit: 'mm' });
    expect(sizeOf('6.35 MM')).toEqual({ value: 6.35, unit: 'mm' });
    expect(sizeOf('1/4 in')).toEqual({ value: 0.25, unit: 'in' });
    expect(sizeOf('1 1/2"')).toEqual({ value: 1.5, unit: 'in' });
  });

  it('is left out when empty, and not understood when it is no size', () => {
    expect(sizeOf('')).toBeUndefined();
    for (const text of ['0', '-3', '1/0', '6 cm', 'DN25', '1.2.3']) expect(sizeOf(text)).toBeNull();
  });
});
