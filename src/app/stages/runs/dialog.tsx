// A dialog of this stage: a title, what is asked, and at the foot what happens. Enter does what the main button does, unless a field holds figures
// that it has not taken yet; Escape leaves everything as it was.
import { type ReactNode, useEffect, useRef } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button, stopsAtRefused } from '../../fields/index.ts';
import css from './dialog.module.css';

interface DialogProps {
  readonly title: string;
  readonly children: ReactNode;
  /** What the main button says, and what it does; nothing to do where undefined. */
  readonly act: string;
  readonly onAct: (() => void) | undefined;
  readonly onClose: () => void;
  /** What closing without the main button is called; undefined where nothing is left to call off. */
  readonly close?: string | undefined;
}

/** Controls that have a use of their own for Enter. */
const usesEnter =
  'button, select, a[href], [role="menuitem"], input[data-unchanged="false"], [role="option"]';

function EnterActs({ onAct }: Pick<DialogProps, 'onAct'>) {
  const latest = useRef(onAct);
  latest.current = onAct;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Enter' || event.isComposing || event.repeat) return;
      if (event.target instanceof Element && event.target.closest(usesEnter)) return;
      if (!latest.current) return;
      event.preventDefault();
      event.stopPropagation();
      if (!stopsAtRefused(document.querySelector(`.${css['dialog']}`))) latest.current();
    };
    // Before the field hears of it: a field that has taken its figure with this very key looks untouched afterwards.
    document.addEventListener('keydown', onKey, { capture: true });
    return () => document.removeEventListener('keydown', onKey, { capture: true });
  }, []);
  return null;
}

export function StageDialog({ title, children, act, onAct, onClose, ...others }: DialogProps) {
  const close = 'close' in others ? others.close : 'Cancel';
  return (
    <ModalOverlay
      className={css['overlay']!}
      isOpen
      onOpenChange={(isOpen) => {
        if (!isOpen) onClose();
      }}
      isDismissable
    >
      <Modal className={css['modal']!}>
        <Dialog className={css['dialog']!}>
          <Heading slot="title">{title}</Heading>
          {children}
          <footer>
            {close !== undefined && <Button onPress={onClose}>{close}</Button>}
            <Button tone="main" isDisabled={!onAct} onPress={() => onAct?.()}>
              {act}
            </Button>
          </footer>
          <EnterActs onAct={onAct} />
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}

/** Fields on the left, what comes of them on the right. */
export const Halves = ({
  fields,
  children,
}: {
  readonly fields: ReactNode;
  readonly children: ReactNode;
}) => (
  <div className={css['halves']}>
    <div>{fields}</div>
    <div>{children}</div>
  </div>
);

/** What follows, told aloud as it changes. */
export const Outcome = ({
  children,
  tone = 'plain',
}: {
  readonly children: ReactNode;
  readonly tone?: 'plain' | 'good' | 'warn';
}) => (
  <p className={css['outcome']} data-tone={tone} role="status">
    {children}
  </p>
);

export const Note = ({ children }: { readonly children: ReactNode }) => (
  <p className={css['note']}>{children}</p>
);
