// The whole page in its three states: opening, not openable, open. Also the last net under faults of our own.
import { Component, lazy, type ReactNode, Suspense } from 'react';
import { Notice } from './frame/notice.tsx';
import { useTools } from './opening/use-tools.ts';

const Workspace = lazy(async () => ({ default: (await import('./workspace.tsx')).Workspace }));
const opening = <Notice title="Opening the project" lines={[]} busy />;

class FaultNet extends Component<{ readonly children: ReactNode }, { readonly fault: string | undefined }> {
  override state = { fault: undefined };

  static getDerivedStateFromError(error: unknown) {
    return { fault: error instanceof Error ? error.message : String(error) };
  }

  override render() {
    const { fault } = this.state;
    if (fault === undefined) return this.props.children;
    return (
      <Notice
        title="Lamploom stopped because of a fault of its own"
        lines={[fault, 'Reload the page to go on.']}
      />
    );
  }
}

function OpenPage() {
  const opened = useTools();
  if (!opened) return opening;
  if (!opened.ok)
    return (
      <Notice
        title="This project can’t be shown"
        lines={opened.problems.map(
          ({ at, expected, found, mend }) =>
            `${at === '' ? 'The whole file' : at}: expected ${expected}, found ${found}. ${mend}`,
        )}
      />
    );
  return (
    <Suspense fallback={opening}>
      <Workspace tools={opened.value} />
    </Suspense>
  );
}

export const App = () => (
  <FaultNet>
    <OpenPage />
  </FaultNet>
);
