/** The text that goes into every archive and onto the help page: what is in it and how to read it without this program. */
import { archiveFormat, archiveVersion } from './format';

export const archiveGuide = `# What this archive holds

A ZIP file of open formats: JSON, CSV and Markdown, all in UTF-8. Format \`${archiveFormat}\`, version ${archiveVersion}. Archives of version 1, which had no pictures and no thesaurus, and of version 2, which had no write-ups, are read too.

| file | what |
|---|---|
| \`manifest.json\` | format, version, when it was made, and size and SHA-256 of every other file |
| \`schema.json\` | JSON Schema of manifest, members, pages, write-ups, letterhead, pictures, stock and thesaurus |
| \`members.json\` | names of those who wrote; no addresses, passwords or tokens |
| \`designs/<id>/chart.json\`, \`machines/<id>/chart.json\` | charts; their schema is at \`/api/charts/schema\` |
| \`designs/<id>/*.csv\`, \`machines/<id>/*.csv\` | the same charts as tables |
| \`catalogue.json\` | the parts |
| \`stock.json\`, \`stock.csv\` | every movement of stock, in an archive of the whole club |
| \`thesaurus.json\` | the club’s own groups of words that mean the same, in an archive of the whole club that has some |
| \`letterhead.json\` | name, address, logo, currency and hourly rate for write-ups, in an archive of the whole club that has set them |
| \`pictures.json\` | the pictures that pages, charts and write-ups show: name, width, height, and when one was removed for good |
| \`pictures/<hash>/<size>.jpg\` | each picture in every size that it is kept in, the longest side in pixels |
| \`pages/<id>/page.md\` | the page for people: text, and what its widgets show |
| \`pages/<id>/page.json\` | the page exactly, for bringing it in again, with its points that have a name |
| \`pages/<id>/write-up.json\` | how the customer’s write-up was worded and priced, and every copy that was sent, with the letterhead it had; no links and no pass phrases. Left out for members who may not see what was sent |
| \`pages/<id>/parts.csv\` | what the page needs, has and must order |

A cell of a CSV file that a spreadsheet would take for a formula begins with an apostrophe.
A picture is named by the SHA-256 of the file that was once sent, before place and device were removed from it; so the name is not the sum of any file here. The sums of the files are in the manifest.
Bringing in reads the JSON files and pictures only; Markdown and CSV are for people and spreadsheets.
`;
