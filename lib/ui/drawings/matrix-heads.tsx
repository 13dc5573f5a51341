/** Heads of columns and rows: the number, the wire in words or in code letters beside its sample, and the first pin. */
import { splitColour } from './colours';
import { codeLetters, type MatrixLine } from './matrix-lines';
import type { MatrixSize } from './matrix-size';

interface HeadProps {
  line: MatrixLine;
  lit: boolean;
  x: number;
  y: number;
  size: MatrixSize;
}

export function ColumnHead({ line, lit, x, size }: HeadProps) {
  if (size.form === 'wide' && size.named)
    return (
      <>
        <text x={x - 7} y={14} className={lit ? 'fig-h' : 'fig-t strong'}>
          column {line.number}
        </text>
        <text x={x - 7} y={33} className="fig-t" data-wire={line.colour}>
          {line.colour}
        </text>
        <text x={x - 7} y={52} className="fig-m soft">
          {line.pin}
        </text>
      </>
    );
  if (size.form === 'large') {
    return (
      <>
        <text x={x - 6} y={20} className={lit ? 'num-m lit' : 'num-m strong'}>
          {line.number}
        </text>
        <text x={x - 6} y={40} className="fig-h">
          {codeLetters(line.colour).join('-')}
        </text>
        <text x={x + 16} y={19} className="fig-12 soft">
          {line.pin}
        </text>
      </>
    );
  }
  const { base, stripe } = splitColour(line.colour);
  return (
    <>
      <text x={x - 5} y={14} className={lit ? 'num-s lit' : 'num-s'}>
        {line.number}
      </text>
      <text x={x - 5} y={31} className="fig-12">
        {base}
      </text>
      <text x={x - 5} y={45} className="fig-12">
        {stripe}
      </text>
    </>
  );
}

export function RowHead({ line, lit, y, size }: HeadProps) {
  if (size.form === 'wide')
    return (
      <>
        <text x={0} y={y + 1} className={lit ? 'fig-h' : 'fig-t strong'}>
          row {line.number}
        </text>
        <text x={0} y={y + 19} className="fig-t" data-wire={line.colour}>
          {line.colour}
        </text>
        <text x={0} y={y + 36} className="fig-m soft">
          {line.pin}
        </text>
      </>
    );
  if (size.form === 'large') {
    const [base, stripe] = codeLetters(line.colour);
    return (
      <>
        <text x={10} y={y + 6} className={lit ? 'num-m lit' : 'num-m strong'}>
          {line.number}
        </text>
        <text x={10} y={y + 28} className="fig-h">
          {base}
        </text>
        <text x={10} y={y + 46} className="fig-h">
          {stripe}
        </text>
      </>
    );
  }
  const { base, stripe } = splitColour(line.colour);
  return (
    <>
      <text x={3} y={y + 6} className={lit ? 'num-s lit' : 'num-s'}>
        {line.number}
      </text>
      <text x={3} y={y + 23} className="fig-12">
        {base}
      </text>
      <text x={3} y={y + 36} className="fig-12">
        {stripe}
      </text>
    </>
  );
}
