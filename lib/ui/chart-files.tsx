/** Links to a chart's files. */
export function ChartFiles({ base, files }: { base: string; files: readonly { name: string; rows: number }[] }) {
  return (
    <details className="chart-files">
      <summary>Take it away as files</summary>
      <p className="note soft">One JSON file holds all of it; the tables are CSV for a spreadsheet and can be pasted back here.</p>
      <ul className="press">
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
