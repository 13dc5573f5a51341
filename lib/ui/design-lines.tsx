/** The lines of a board design with wire, what drives or reads them, and their pins. */
import { netTitle, pinOf } from '@/lib/core/chart/names';
import type { BoardDesign } from '@/lib/core/chart/schema';
import { WireChip } from './drawings';

export function DesignLines({ design }: { design: BoardDesign }) {
  const nets = new Map(design.nets.map((net) => [net.id, net]));
  const pins = (net: string) => design.headers.flatMap((h) => h.pins.filter((p) => p.net === net).map((p) => pinOf(h.id, p.position)));
  return (
    <table className="stack design-lines">
      <thead>
        <tr>
          <th>Line</th>
          <th>Wire</th>
          <th>At</th>
          <th>Pins</th>
        </tr>
      </thead>
      <tbody>
        {design.nets.map((net) => (
          <tr key={net.id}>
            <td>{netTitle({ nets }, net.id)}</td>
            <td>
              <WireChip colour={net.colour} /> <span className="soft">{net.awg} AWG</span>
            </td>
            <td className="mono">{net.part}</td>
            <td className="mono">
              {pins(net.id).map((pin) => (
                <span key={pin} className="circuit-pin">
                  {pin}
                </span>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
