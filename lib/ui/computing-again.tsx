/** While pages are computed again from a chart that changed: how far it is. The small script keeps it true; without one, a reload does. */
export function ComputingAgain({ machine, progress: { pages, left } }: { machine: string; progress: { pages: number; left: number } }) {
  if (left === 0) return null;
  return (
    <p className="notice-line" role="status" data-progress={`/api/machines/${machine}/dependents`}>
      The chart was changed: {pages - left} of {pages} pages are computed again.
    </p>
  );
}
