import { Bare } from '@/lib/ui/shell';

export default function NotFound() {
  return (
    <Bare title="Not here">
      <p className="lead">There is no such page, or it is not yours to read.</p>
      <p>
        <a href="/">Back to the bench</a>, or <a href="/search">look for it</a>.
      </p>
    </Bare>
  );
}
