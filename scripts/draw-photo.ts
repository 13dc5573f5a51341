/** Draws the demo club's picture of a playfield from what is pinned on it: `npx tsx scripts/draw-photo.ts`. The picture is ours and shows no real machine. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';

const folder = join(import.meta.dirname, '..', 'content', 'photos');
const { file, pinned } = JSON.parse(readFileSync(join(folder, 'kestrel-post-1.json'), 'utf8')) as {
  file: string;
  pinned: { at: [number, number]; switch?: string; load?: string }[];
};
const [width, height] = [800, 1280];
const x = (part: number) => Math.round(part * width);
const y = (part: number) => Math.round(part * height);

/** Each thing of the field as one sees it from above: what it is follows from the number that is pinned there. */
function thing({ at: [across, down], switch: number = '', load }: (typeof pinned)[number]): string {
  const [cx, cy] = [x(across), y(down)];
  const turned = (angle: number, body: string) => `<g transform="translate(${cx} ${cy}) rotate(${angle})">${body}</g>`;
  if (load) return '';
  if (/^[567]7$/.test(number))
    return `<circle cx="${cx}" cy="${cy}" r="44" fill="#b7412e"/><circle cx="${cx}" cy="${cy}" r="30" fill="#ead9a8"/><circle cx="${cx}" cy="${cy}" r="12" fill="#7c8a91"/>`;
  if (/^[1234][5]$/.test(number) || /^[456]2$/.test(number) || /^[1234]4$/.test(number))
    return turned(
      /4$/.test(number) ? 70 : /2$/.test(number) ? -65 : 0,
      '<rect x="-22" y="-9" width="44" height="18" rx="3" fill="#f3efe2" stroke="#5a4a33" stroke-width="3"/>',
    );
  if (/^[13]8$/.test(number))
    return turned(
      number === '18' ? 24 : -24,
      `<rect x="${number === '18' ? -16 : -114}" y="-15" width="130" height="30" rx="15" fill="#f0e4c4" stroke="#7a3b22" stroke-width="6"/>`,
    );
  if (/^3[2]$|^54$/.test(number))
    return turned(number === '32' ? 58 : -58, '<path d="M-70 -20h140l-40 44h-60z" fill="#d5c39a" stroke="#20303a" stroke-width="7"/>');
  if (number === '85')
    return `<circle cx="${cx}" cy="${cy}" r="34" fill="#151c20"/><circle cx="${cx}" cy="${cy}" r="34" fill="none" stroke="#a97f3d" stroke-width="8"/>`;
  if (number === '64') return turned(10, '<rect x="-34" y="-5" width="68" height="10" fill="#c9ced1" stroke="#39444a" stroke-width="2"/>');
  return turned(0, '<rect x="-5" y="-24" width="10" height="48" rx="5" fill="#c9ced1" stroke="#39444a" stroke-width="2"/>');
}

const lamps = Array.from({ length: 13 }, (_, i) => {
  const turn = (i / 13) * 2 * Math.PI;
  return `<circle cx="${x(0.47) + Math.round(128 * Math.cos(turn))}" cy="${y(0.7) + Math.round(90 * Math.sin(turn))}" r="13" fill="#e8b64c" stroke="#6b4a1d" stroke-width="3"/>`;
}).join('');
const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">
<defs>
<linearGradient id="wood" x1="0" y1="0" x2="1" y2="1"><stop offset="0" stop-color="#3f6d74"/><stop offset="0.55" stop-color="#2c4f5c"/><stop offset="1" stop-color="#23323f"/></linearGradient>
<radialGradient id="light" cx="0.35" cy="0.25" r="0.9"><stop offset="0" stop-color="#fff" stop-opacity="0.22"/><stop offset="1" stop-color="#000" stop-opacity="0.3"/></radialGradient>
</defs>
<rect width="${width}" height="${height}" fill="#6b4a2c"/>
<rect x="26" y="20" width="${width - 52}" height="${height - 40}" rx="90" fill="url(#wood)"/>
<path d="M60 ${y(0.62)}C150 ${y(0.5)} 230 ${y(0.52)} 330 ${y(0.46)}S620 ${y(0.4)} 740 ${y(0.33)}V${y(0.62)}C560 ${y(0.7)} 260 ${y(0.66)} 60 ${y(0.8)}Z" fill="#58803f" opacity="0.75"/>
<path d="M${x(0.24)} ${y(0.58)}L${x(0.24)} ${y(0.34)}L${x(0.36)} ${y(0.34)}L${x(0.36)} ${y(0.58)}Z" fill="#9fb6bd" opacity="0.55" stroke="#dfe9ec" stroke-width="4"/>
<path d="M${x(0.1)} ${y(0.45)}C${x(0.02)} ${y(0.16)} ${x(0.24)} ${y(0.03)} ${x(0.5)} ${y(0.035)}S${x(0.97)} ${y(0.16)} ${x(0.93)} ${y(0.48)}" fill="none" stroke="#c9ced1" stroke-width="9"/>
<path d="M${x(0.9)} ${y(0.52)}V${y(0.96)}" stroke="#c9ced1" stroke-width="8"/>
<rect x="${x(0.78)}" y="${y(0.22)}" width="94" height="70" rx="10" fill="#a33225" stroke="#20303a" stroke-width="5"/>
<path d="M${x(0.2)} ${y(0.9)}H${x(0.76)}L${x(0.82)} ${height - 22}H${x(0.14)}Z" fill="#20272b"/>
${lamps}
${pinned.map(thing).join('\n')}
<rect x="26" y="20" width="${width - 52}" height="${height - 40}" rx="90" fill="url(#light)"/>
</svg>`;
const jpeg = await sharp(Buffer.from(svg)).flatten().blur(0.6).jpeg({ quality: 74, mozjpeg: true }).toBuffer();
writeFileSync(join(folder, file), jpeg);
console.log(`${file}: ${jpeg.length} bytes`);
