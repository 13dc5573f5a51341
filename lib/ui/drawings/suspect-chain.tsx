/** One line from the board to its switches, inked by suspicion: boxes on the board and in the plug, the wire in its colours, splices, switches with what was seen. */
import type { LaidSwitch, Layout } from './chain-layout';
import { narrow, narrowLayout, wide, wideLayout } from './chain-layout';
import { type ChainPlan, chainLines } from './chain-plan';
import { Ink, inkPercent, leastInk } from './ink';
import { shortLines } from './matrix-lines';
import { SeenMark } from './seen-mark';
import { Sheet } from './svg';
import { Wire } from './wire';

export function SuspectChain({ plan }: { plan: ChainPlan }) {
  const worst = [...chainLines(plan)].filter((line) => line.share >= leastInk).sort((a, b) => b.share - a.share);
  const label = `${plan.title}, ${plan.colour}, from ${plan.ends} to its switches. ${worst.map(({ what, share }) => `${what} ${inkPercent(share)}`).join('; ')}`;
  return (
    <figure className="fits">
      <div className="plate">
        <div className="wide-form">
          <Across layout={wideLayout(plan)} colour={plan.colour} label={label} />
        </div>
        <div className="narrow-form">
          <Down layout={narrowLayout(plan)} colour={plan.colour} label={label} />
        </div>
      </div>
      <figcaption>
        {plan.title}, {plan.colour}, from {plan.ends} to its switches. The more ink, the likelier the fault.
        {plan.loose.length > 0 && ' Dashed: the chart does not say how the wire runs.'}
      </figcaption>
      <details className="as-table no-print">
        <summary>{plan.title} as a list</summary>
        <table className="finder-list">
          <thead>
            <tr>
              <th>Part</th>
              <th>Seen</th>
              <th className="n">Suspicion</th>
            </tr>
          </thead>
          <tbody>
            {chainLines(plan).map(({ what, seen, share }, k) => (
              <tr key={k}>
                <td>{what}</td>
                <td>{seen}</td>
                <td className="n">{inkPercent(share)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}

interface FormProps {
  layout: Layout;
  colour: string;
  label: string;
}

const Wires = ({ layout, colour }: { layout: Layout; colour: string }) => (
  <>
    {layout.wires.map((d) => (
      <Wire key={d} d={d} colour={colour} width={11} />
    ))}
    {layout.guesses.map((d) => (
      <path key={d} d={d} className="heavy none dash" />
    ))}
    {layout.links.map((d) => (
      <path key={d} d={d} className="mid none" />
    ))}
  </>
);

function Across({ layout, colour, label }: FormProps) {
  return (
    <Sheet width={layout.width} height={layout.height} label={label} className="drawing chain">
      <Wires layout={layout} colour={colour} />
      {layout.boxes.map(({ part, x, y }, k) => (
        <g key={k}>
          <text x={x} y={y - 28} className="fig-t strong">
            {part.name}
          </text>
          <text x={x} y={y - 11} className="fig-m soft">
            {part.place}
          </text>
          <Ink share={part.share} x={x} y={y} w={wide.box} h={wide.boxHeight} />
          <text x={x + wide.box / 2} y={y + wide.boxHeight + 20} className="fig-p mid-a">
            {inkPercent(part.share)}
          </text>
        </g>
      ))}
      {layout.splices.map(({ node, x, y }) => (
        <g key={node.name}>
          <Ink share={node.share} x={x - 15} y={y - 15} w={30} h={30} />
          <text x={x} y={y - 40} className="fig-t strong mid-a">
            {node.what.toLowerCase()} {node.name}
          </text>
          <text x={x} y={y - 23} className="fig-p mid-a">
            {inkPercent(node.share)}
          </text>
        </g>
      ))}
      {layout.switches.map((laid) => (
        <Hanging key={laid.node.number} laid={laid} />
      ))}
    </Sheet>
  );
}

/** The signs of diode and contact, hanging from the line at x, y; `turned` lays them to the right. */
function Signs({ x, y, diode, turned }: { x: number; y: number; diode: boolean; turned?: boolean }) {
  return (
    <g transform={turned ? `rotate(-90 ${x} ${y})` : undefined}>
      {diode ? (
        <>
          <path d={`M${x} ${y + 5}v19`} className="mid none" />
          <path d={`M${x - 8} ${y + 24}h16l-8 13z`} className="mid paper" />
          <path d={`M${x - 8} ${y + 37}h16`} className="heavy none" />
          <path d={`M${x} ${y + 37}v16`} className="mid none" />
        </>
      ) : (
        <path d={`M${x} ${y + 5}v48`} className="mid none" />
      )}
      <path d={`M${x} ${y + 57}l12 14M${x} ${y + 78}v8`} className="mid none" />
      <circle cx={x} cy={y + 55} r={2.5} className="mid paper" />
      <circle cx={x} cy={y + 75} r={2.5} className="mid paper" />
      <circle cx={x} cy={y} r={5} className="mid paper" />
    </g>
  );
}

/** Ground, for a switch that closes to it. */
const Ground = ({ x, y }: { x: number; y: number }) => (
  <path d={`M${x - 9} ${y}h18M${x - 5.5} ${y + 4}h11M${x - 2} ${y + 8}h4`} className="mid none" />
);

function Hanging({ laid: { node, x, y, room, run } }: { laid: LaidSwitch }) {
  const letters = Math.max(6, Math.floor(room / 7));
  const lines = [
    ...shortLines(node.name, letters).map((words) => ({ words, look: 'fig-xs' })),
    ...shortLines(node.words, letters).map((words) => ({ words, look: node.as === 'untried' ? 'fig-xs soft' : 'fig-xs strong' })),
  ];
  const below = y + 56 + lines.length * 15;
  return (
    <g>
      {node.other && <Wire d={`M${x} ${y + 86}v24`} colour={node.other.colour} width={9} />}
      {node.run >= leastInk && (
        <>
          <Ink share={node.run} x={run.x - 8} y={run.y - 27} w={16} h={14} outline="thin" />
          <text x={run.x} y={run.y - 33} className="fig-12 mid-a">
            {inkPercent(node.run)}
          </text>
        </>
      )}
      <Signs x={x} y={y} diode={node.other !== null} />
      {!node.other && <Ground x={x} y={y + 86} />}
      <text x={x + 16} y={y + 38} className={node.as === 'untried' ? 'num-m' : 'num-m lit'}>
        {node.number}
      </text>
      <SeenMark as={node.as} x={x + 28 + node.number.length * 11} y={y + 32} r={5.5} />
      {lines.map(({ words, look }, k) => (
        <text key={k} x={x + 16} y={y + 55 + k * 15} className={look}>
          {words}
        </text>
      ))}
      {node.own >= leastInk && (
        <>
          <Ink share={node.own} x={x + 16} y={below - 10} w={20} h={14} outline="thin" />
          <text x={x + 41} y={below + 2} className="fig-12 strong">
            {inkPercent(node.own)}
          </text>
        </>
      )}
      <text x={x - 8} y={y + 127} className="fig-12 soft">
        {node.other?.title ?? 'ground'}
      </text>
    </g>
  );
}

function Down({ layout, colour, label }: FormProps) {
  const end = narrow.width - 2;
  return (
    <Sheet width={layout.width} height={layout.height} label={label} className="drawing chain">
      <Wires layout={layout} colour={colour} />
      {layout.boxes.map(({ part, x, y }, k) => (
        <g key={k}>
          <Ink share={part.share} x={x} y={y} w={narrow.box} h={narrow.boxHeight} />
          <text x={x + 68} y={y + 21} className="fig-h">
            {part.name}
          </text>
          <text x={x + 68} y={y + 40} className="fig-m soft">
            {part.place}
          </text>
          <text x={end} y={y + 30} className="fig-p end-a">
            {inkPercent(part.share)}
          </text>
        </g>
      ))}
      {layout.heads.map(({ words, x, y }) => (
        <text key={words} x={x} y={y} className="fig-t soft">
          {words}
        </text>
      ))}
      {layout.splices.map(({ node, x, y }) => {
        const size = 30 + 16 * (Math.max(1, node.branches.length) - 1);
        return (
          <g key={node.name}>
            <Ink share={node.share} x={x - 15} y={y - 15} w={size} h={30} />
            <text x={82} y={y + 6} className="fig-h">
              {node.what} {node.name}
            </text>
            <text x={end} y={y + 6} className="fig-p end-a">
              {inkPercent(node.share)}
            </text>
          </g>
        );
      })}
      {layout.switches.map((laid) => (
        <Lying key={laid.node.number} laid={laid} end={end} />
      ))}
    </Sheet>
  );
}

function Lying({ laid: { node, x, y }, end }: { laid: LaidSwitch; end: number }) {
  const text = 186;
  return (
    <g>
      {node.other && <Wire d={`M${x + 86} ${y}H${text - 14}`} colour={node.other.colour} width={9} />}
      <Signs x={x} y={y} diode={node.other !== null} turned />
      {!node.other && <path d={`M${x + 88} ${y - 9}v18M${x + 92} ${y - 5.5}v11M${x + 96} ${y - 2}v4`} className="mid none" />}
      <text x={text} y={y - 6} className={node.as === 'untried' ? 'num-m' : 'num-m lit'}>
        {node.number}
      </text>
      <text x={text + 10 + node.number.length * 11} y={y - 6} className="fig-t">
        {shortLines(node.name, 16)[0]}
      </text>
      <SeenMark as={node.as} x={text + 7} y={y + 8} r={5.5} />
      <text x={node.as === 'untried' ? text : text + 20} y={y + 13} className={node.as === 'untried' ? 'fig-xs soft' : 'fig-xs strong'}>
        {shortLines(node.words, 22)[0]}
      </text>
      <text x={text} y={y + 30} className="fig-12 soft">
        {[node.other?.title ?? 'to ground', node.run >= leastInk ? `wire ${inkPercent(node.run)}` : ''].filter(Boolean).join(', ')}
      </text>
      {node.own >= leastInk && (
        <>
          <text x={end} y={y + 30} className="fig-12 strong end-a">
            {inkPercent(node.own)}
          </text>
          <Ink share={node.own} x={end - 52} y={y + 18} w={20} h={14} outline="thin" />
        </>
      )}
    </g>
  );
}
