/** Mounts the model stage on a canvas. The only place of the scene that speaks React. */
import { OrbitControls } from '@react-three/drei/core/OrbitControls';
import { createRoot, extend, type RootStore, useFrame, useThree } from '@react-three/fiber';
import { useEffect } from 'react';
import { Group, Mesh, setConsoleFunction, type WebGLRenderer } from 'three';
import type { OrbitControls as Orbit } from 'three-stdlib';
import { ModelStage } from './stage.ts';

extend({ Group, Mesh });

// The fiber library still keeps time by three's old clock, and three says so each time; everything else is let through.
setConsoleFunction((type: 'log' | 'warn' | 'error', message: string, ...more: unknown[]) => {
  if (!message.startsWith('THREE.Clock')) console[type](message, ...more);
});

interface Hooks {
  readonly onLost: () => void;
  readonly onBack: () => void;
}

function Model({ stage }: { stage: ModelStage }) {
  const invalidate = useThree((state) => state.invalidate);
  const set = useThree((state) => state.set);
  useEffect(() => {
    set({ camera: Object.assign(stage.rig.camera, { manual: true }) });
    stage.invalidate = invalidate;
    invalidate();
  }, [stage, invalidate, set]);
  useFrame(({ gl, scene }, seconds) => {
    if (stage.draw(gl as WebGLRenderer, scene, seconds)) invalidate();
  }, 1);
  return (
    <>
      <primitive object={stage.group} dispose={null} />
      <primitive object={stage.shadow.table} dispose={null} />
      <OrbitControls
        ref={(controls: Orbit | null) => {
          if (!controls) return;
          stage.rig.attach(controls);
          stage.hold = (held) => {
            controls.enabled = !held;
            if (held) stage.rig.take();
            else stage.rig.release();
          };
        }}
        camera={stage.rig.camera}
        enableDamping={false}
        onChange={() => invalidate()}
        onStart={() => stage.rig.take()}
        onEnd={() => stage.rig.readBack()}
      />
    </>
  );
}

/**
 * The canvas carries its stage, for tests that turn the eye by less than a hand can.
 * @returns the stage, and a call that takes it down again */
export async function mountStage(
  canvas: HTMLCanvasElement,
  hooks: Hooks,
): Promise<{ stage: ModelStage; unmount: () => void }> {
  const stage = new ModelStage();
  Object.assign(canvas, { stage });
  const box = canvas.parentElement!;
  const size = () => ({ width: box.clientWidth, height: box.clientHeight, top: 0, left: 0 });
  const root = createRoot(canvas);
  const configure = () =>
    root.configure({
      frameloop: 'demand',
      gl: { antialias: true, alpha: true, powerPreference: 'high-performance' },
      dpr: Math.min(window.devicePixelRatio || 1, 2),
      size: size(),
      flat: true,
      linear: true,
      camera: stage.rig.camera as never,
    });
  await configure();
  const room = (side: string) => Number(getComputedStyle(box).getPropertyValue(side)) || 0;
  const resize = () => stage.resize(size().width, size().height, room('--room-above'), room('--room-below'));
  stage.remeasure = resize;
  resize();
  const store: RootStore = root.render(<Model stage={stage} />);
  const watcher = new ResizeObserver(() => {
    const { width, height } = size();
    if (width === 0 || height === 0) return;
    store.getState().setSize(width, height, 0, 0);
    resize();
  });
  watcher.observe(box);
  const lost = (event: Event) => {
    event.preventDefault();
    stage.forget();
    hooks.onLost();
  };
  const back = () => {
    stage.restore();
    hooks.onBack();
  };
  canvas.addEventListener('webglcontextlost', lost);
  canvas.addEventListener('webglcontextrestored', back);
  return {
    stage,
    unmount: () => {
      watcher.disconnect();
      canvas.removeEventListener('webglcontextlost', lost);
      canvas.removeEventListener('webglcontextrestored', back);
      stage.dispose();
      root.unmount();
    },
  };
}
