/** Links to a chart's files. */
export function ChartFiles({
  base,
  files,
  archive,
}: {
  base: string;
  files: readonly { name: string; rows: number }[];
  archive?: string; // address of the machine with its pages
}) {
  return (
    <details className="chart-files">
      <summary>Take it away as files</summary>
      <p className="note soft">One JSON file holds all of it; the tables are CSV for a spreadsheet and can be pasted back here.</p>
      <ul className="press">
        {archive && (
          <li>
            <a href={archive} download>
              Archive with its pages (ZIP)
            </a>
          </li>
        )}
        <li>
          <a href={`${base}/export/chart.json`} download>
            chart.json
          </a>
        </li>
        {files
          .filter((f) => f.rows > 0)
          .map((f) => (
            <li key={f.name}>
              <a href={`${base}/export/${f.name}`} download>
                {f.name}
              </a>
            </li>
          ))}
      </ul>
    </details>
  );
}
