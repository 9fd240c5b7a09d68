// Two tabs of this page keep their work in the same place. Each hears when another opens, so that the builder can be told.
const channelName = 'lamploom';

/** Calls back when another tab of this page is open, on either side. */
export function watchOtherTabs(onOther: () => void): void {
  if (!('BroadcastChannel' in globalThis)) return;
  const channel = new BroadcastChannel(channelName);
  channel.onmessage = ({ data }) => {
    onOther();
    if (data === 'opened') channel.postMessage('here');
  };
  channel.postMessage('opened');
}
