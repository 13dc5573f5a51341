/** The text that goes into every archive and onto the help page: what is in it and how to read it without this program. */
import { archiveFormat, archiveVersion } from './format';

export const archiveGuide = `# What this archive holds

A ZIP file of open formats: JSON, CSV and Markdown, all in UTF-8. Format \`${archiveFormat}\`, version ${archiveVersion}.

| file | what |
|---|---|
| \`manifest.json\` | format, version, when it was made, and size and SHA-256 of every other file |
| \`schema.json\` | JSON Schema of manifest, members, pages and stock |
| \`members.json\` | names of those who wrote; no addresses, passwords or tokens |
| \`designs/<id>/chart.json\`, \`machines/<id>/chart.json\` | charts; their schema is at \`/api/charts/schema\` |
| \`designs/<id>/*.csv\`, \`machines/<id>/*.csv\` | the same charts as tables |
| \`catalogue.json\` | the parts |
| \`stock.json\`, \`stock.csv\` | every movement of stock, in an archive of the whole club |
| \`pages/<id>/page.md\` | the page for people: text, and what its widgets show |
| \`pages/<id>/page.json\` | the page exactly, for bringing it in again, with its points that have a name |
| \`pages/<id>/parts.csv\` | what the page needs, has and must order |

A cell of a CSV file that a spreadsheet would take for a formula begins with an apostrophe.
Bringing in reads the JSON files only; Markdown and CSV are for people and spreadsheets.
`;
