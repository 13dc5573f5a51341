'use client';

export default function ErrorPage({ error }: { error: Error & { digest?: string } }) {
  return (
    <main className="bare">
      <h1>Something broke here</h1>
      <p className="lead">
        Nothing that was saved is lost. Load the page again; if it happens again, tell whoever runs this notebook
        {error.digest ? ` and give them ${error.digest}` : ''}.
      </p>
      <p>
        <a href="/">Back to the bench</a>
      </p>
    </main>
  );
}
