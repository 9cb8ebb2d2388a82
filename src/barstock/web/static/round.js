// The work in the round: read a setup's triangles, turn them under a finger, play the operations.
// Without WebGL the setup's picture stays where it is, with the steps in words beside it.
import * as THREE from "./vendor/three/three.module.min.js";

const stand = document.getElementById("stand");
const canvas = document.getElementById("round");
const by = (id) => document.getElementById(id);
const UP = new THREE.Vector3(0, 0, 1);
const MOVING = matchMedia("(prefers-reduced-motion: no-preference)");
const GLIDE = 1100; // of the cutter through an operation, while playing [ms]
const REST = 900; // between two operations [ms]

// -- what comes over the wire -----------------------------------------------------------------------
async function read(file) {
  const answer = await fetch(file);
  if (!answer.ok) throw new Error(String(answer.status));
  const raw = await answer.arrayBuffer();
  const long = new DataView(raw).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(raw, 4, long)));
  const sum = (lengths) => lengths.reduce((a, b) => a + b, 0);
  const onFaces = sum(head.faces.map((f) => f[0])), onLines = sum(head.lines);
  let at = 4 + long;
  const whole = new Int16Array(raw, at, 3 * (onFaces + onLines));
  at += whole.byteLength;
  const corners = new Uint16Array(raw, at);
  const points = new Float32Array(whole.length);
  for (let i = 0; i < whole.length; i += 1) points[i] = head.low[i % 3] + (whole[i] + 32767) * head.step;
  let p = 0, c = 0;
  const faces = head.faces.map(([many, triangles]) => {
    const face = { points: points.subarray(3 * p, 3 * (p + many)), corners: corners.subarray(3 * c, 3 * (c + triangles)) };
    p += many; c += triangles;
    return face;
  });
  const lines = head.lines.map((many) => {
    const line = points.subarray(3 * p, 3 * (p + many));
    p += many;
    return line;
  });
  return { head, faces, lines };
}

// Faces are shaded round within themselves and sharp against each other.
function skin(found, numbers) {
  const many = numbers.reduce((n, i) => n + found.faces[i].points.length, 0);
  const points = new Float32Array(many), corners = [];
  let first = 0;
  for (const i of numbers) {
    const face = found.faces[i];
    points.set(face.points, 3 * first);
    for (const corner of face.corners) corners.push(first + corner);
    first += face.points.length / 3;
  }
  const shape = new THREE.BufferGeometry();
  shape.setAttribute("position", new THREE.BufferAttribute(points, 3));
  shape.setIndex(corners);
  shape.computeVertexNormals();
  return shape;
}
function wires(found, numbers) {
  const ends = [];
  for (const i of numbers) {
    const line = found.lines[i];
    for (let n = 3; n < line.length; n += 3) ends.push(...line.subarray(n - 3, n + 3));
  }
  const shape = new THREE.BufferGeometry();
  shape.setAttribute("position", new THREE.Float32BufferAttribute(ends, 3));
  return shape;
}

// How much of a skin looks to the right rather than to the left [mm2].
function leaning(shape) {
  const p = shape.getAttribute("position"), corners = shape.getIndex().array;
  let sum = 0;
  for (let i = 0; i < corners.length; i += 3) {
    const [a, b, c] = [corners[i], corners[i + 1], corners[i + 2]];
    sum += (p.getY(b) - p.getY(a)) * (p.getZ(c) - p.getZ(a)) - (p.getZ(b) - p.getZ(a)) * (p.getY(c) - p.getY(a));
  }
  return sum / 2;
}

// -- surfaces: fresh ones are hatched one way, cut-away metal the other, so that colour is no matter -
const plane = new THREE.Plane(new THREE.Vector3(0, 1, 0), 0);
function hatched(material, turn, ink) {
  material.onBeforeCompile = (shader) => {
    shader.fragmentShader = shader.fragmentShader.replace(
      "#include <dithering_fragment>",
      `#include <dithering_fragment>
       float stripe = mod(gl_FragCoord.x ${turn} gl_FragCoord.y, ${(7 * devicePixelRatio).toFixed(1)});
       if (stripe < ${(1.5 * devicePixelRatio).toFixed(1)}) gl_FragColor.rgb = vec3(${ink});`,
    );
  };
  material.customProgramCacheKey = () => turn + ink;
  return material;
}
const offset = { polygonOffset: true, polygonOffsetFactor: 2, polygonOffsetUnits: 2 };
const clipped = { clippingPlanes: [plane] };
const MATTER = {
  work: new THREE.MeshLambertMaterial({ color: 0xd9d4c4, ...offset, ...clipped }),
  fresh: hatched(new THREE.MeshLambertMaterial({ color: 0x9cc3e0, ...offset, ...clipped }), "+", "0.08,0.22,0.36"),
  section: hatched(new THREE.MeshBasicMaterial({
    color: 0xf0d9b0, side: THREE.DoubleSide, stencilWrite: true, stencilFunc: THREE.NotEqualStencilFunc,
    stencilFail: THREE.ReplaceStencilOp, stencilZFail: THREE.ReplaceStencilOp, stencilZPass: THREE.ReplaceStencilOp,
  }), "-", "0.35,0.2,0.1"),
  vise: new THREE.MeshLambertMaterial({ color: 0x8b9095, ...offset }),
  glass: new THREE.MeshLambertMaterial({ color: 0x8b9095, transparent: true, opacity: 0.16, depthWrite: false }),
  cutter: new THREE.MeshLambertMaterial({ color: 0x50545a, transparent: true, opacity: 0.62 }),
};
// Where more back faces than front faces lie behind the cut, the eye looks into metal.
function counting(side, operation) {
  return new THREE.MeshBasicMaterial({
    side, depthWrite: false, depthTest: false, colorWrite: false, stencilWrite: true, ...clipped,
    stencilFail: operation, stencilZFail: operation, stencilZPass: operation,
  });
}
const COUNTING = [
  counting(THREE.BackSide, THREE.IncrementWrapStencilOp), counting(THREE.FrontSide, THREE.DecrementWrapStencilOp),
];
const INK = new THREE.LineBasicMaterial({ color: 0x14161a, ...clipped });
const THIN = new THREE.LineBasicMaterial({ color: 0x55585a });

function body(found, told, matter) {
  const group = new THREE.Group();
  group.add(new THREE.Mesh(skin(found, told.faces), matter), new THREE.LineSegments(wires(found, told.lines), THIN));
  return group;
}
function stage(found, step) {
  const group = new THREE.Group();
  const every = skin(found, [...step.faces, ...step.fresh]);
  group.add(new THREE.Mesh(skin(found, step.faces), MATTER.work));
  if (step.fresh.length) {
    const fresh = skin(found, step.fresh);
    group.add(new THREE.Mesh(fresh, MATTER.fresh));
    group.userData.fresh = leaning(fresh);
  }
  for (const matter of COUNTING) {
    const counted = new THREE.Mesh(every, matter);
    counted.renderOrder = 1;
    counted.userData.counted = true;
    group.add(counted);
  }
  group.add(new THREE.LineSegments(wires(found, step.lines), INK));
  if (step.cutter) {
    const outline = step.cutter.map(([r, z]) => new THREE.Vector2(r, z));
    outline.push(new THREE.Vector2(0, step.cutter.at(-1)[1]));
    const shape = new THREE.LatheGeometry(outline, 32).rotateX(Math.PI / 2);
    const cutter = new THREE.Group();
    cutter.add(new THREE.Mesh(shape, MATTER.cutter), new THREE.LineSegments(new THREE.EdgesGeometry(shape, 30), THIN));
    cutter.position.set(...step.stands.at(-1));
    group.userData.cutter = cutter;
    group.add(cutter);
  }
  return group;
}

// -- the page ---------------------------------------------------------------------------------------
function plainly() {
  canvas.hidden = true;
  by("tools").hidden = true;
  by("plainly").textContent = stand.dataset.plain;
}

function show(found) {
  const renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: false, stencil: true, preserveDrawingBuffer: true });
  renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
  renderer.localClippingEnabled = true;
  renderer.setClearColor(0xffffff);
  const scene = new THREE.Scene();
  scene.add(new THREE.HemisphereLight(0xffffff, 0xa8a294, 2.1));
  const lamp = new THREE.DirectionalLight(0xffffff, 1.6);
  scene.add(lamp, lamp.target);

  const held = new THREE.Group();
  for (const told of found.head.held) {
    held.add(body(found, told, told.of === "moving jaw" ? MATTER.glass : MATTER.vise));
  }
  const stages = found.head.steps.map((step) => stage(found, step));
  const section = new THREE.Mesh(new THREE.PlaneGeometry(1, 1), MATTER.section);
  section.renderOrder = 2;
  scene.add(held, section, ...stages);
  const room = new THREE.Box3();
  for (const group of stages) for (const mesh of group.children) if (mesh.isMesh) room.expandByObject(mesh);
  const middle = room.getCenter(new THREE.Vector3());
  const size = room.clone().expandByObject(held).getSize(new THREE.Vector3()).length() || 1;

  section.scale.setScalar(3 * size);

  // -- the eye: one finger turns, two draw nearer and shift
  const eye = new THREE.OrthographicCamera();
  const START = { round: -0.6, above: 0.62, near: 1, x: 0, y: 0 };
  let look = { ...START }, turned = false;
  let drawn = false, at = 0;
  function draw() {
    drawn = false;
    const { clientWidth: wide, clientHeight: high } = canvas;
    if (!wide || !high) return;
    renderer.setSize(wide, high, false);
    const half = (0.52 * size) / look.near, tall = half * Math.max(1, high / wide), across = tall * (wide / high);
    Object.assign(eye, { left: -across, right: across, top: tall, bottom: -tall, near: 0.1 * size, far: 12 * size });
    const way = new THREE.Vector3(
      Math.cos(look.above) * Math.sin(look.round), -Math.cos(look.above) * Math.cos(look.round), Math.sin(look.above),
    );
    eye.up.copy(UP);
    eye.position.copy(middle).addScaledVector(way, 5 * size);
    eye.lookAt(middle);
    eye.updateMatrixWorld();
    const right = new THREE.Vector3().setFromMatrixColumn(eye.matrixWorld, 0);
    const top = new THREE.Vector3().setFromMatrixColumn(eye.matrixWorld, 1);
    eye.position.addScaledVector(right, -look.x).addScaledVector(top, -look.y);
    lamp.position.copy(middle).addScaledVector(way, size).addScaledVector(right, -0.5 * size).addScaledVector(top, 0.8 * size);
    lamp.target.position.copy(middle);
    eye.updateProjectionMatrix();
    renderer.render(scene, eye);
    canvas.dataset.drawn = `${at}`;
  }
  const redraw = () => { if (!drawn) { drawn = true; requestAnimationFrame(draw); } };

  const touches = new Map();
  let moved = 0;
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    touches.set(event.pointerId, [event.clientX, event.clientY]);
    moved = 0;
  });
  canvas.addEventListener("pointermove", (event) => {
    const was = touches.get(event.pointerId);
    if (!was) return;
    const now = [event.clientX, event.clientY];
    const other = [...touches].find(([id]) => id !== event.pointerId)?.[1];
    const [dx, dy] = [now[0] - was[0], now[1] - was[1]];
    moved += Math.abs(dx) + Math.abs(dy);
    if (other) {
      const far = (a) => Math.hypot(a[0] - other[0], a[1] - other[1]);
      const scale = (eye.right - eye.left) / canvas.clientWidth;
      look.near = clamp(look.near * (far(now) / Math.max(far(was), 1)), 0.4, 12);
      look.x += (dx / 2) * scale;
      look.y -= (dy / 2) * scale;
    } else {
      turn(-dx * 0.01, dy * 0.01);
    }
    touches.set(event.pointerId, now);
    redraw();
  });
  const lift = (event) => {
    if (touches.delete(event.pointerId) && event.type === "pointerup" && moved < 6) cutAt(event);
  };
  canvas.addEventListener("pointerup", lift);
  canvas.addEventListener("pointercancel", lift);
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    look.near = clamp(look.near * Math.exp(-event.deltaY * 0.001), 0.4, 12);
    redraw();
  }, { passive: false });
  const clamp = (n, low, high) => Math.min(high, Math.max(low, n));
  function turn(round, above) {
    turned = true;
    look.round += round;
    look.above = clamp(look.above + above, -1.5, 1.5);
    redraw();
  }
  canvas.addEventListener("keydown", (event) => {
    const turns = { ArrowLeft: [0.15, 0], ArrowRight: [-0.15, 0], ArrowUp: [0, 0.15], ArrowDown: [0, -0.15] }[event.key];
    const nearer = { "+": 1.2, "-": 1 / 1.2 }[event.key];
    if (turns) turn(...turns);
    else if (nearer) look.near = clamp(look.near * nearer, 0.4, 12);
    else return;
    event.preventDefault();
    event.stopPropagation();
    redraw();
  });
  by("level").addEventListener("click", () => {
    turned = false;
    look = { ...START, round: side() };
    redraw();
  });
  new ResizeObserver(redraw).observe(canvas);

  // -- cut away: a plane that takes what is in front of it, moved by the slider or set by a touch
  let cutting = false;
  const face = new THREE.Vector3();
  function cutAway(on) {
    cutting = on;
    by("cut").setAttribute("aria-pressed", String(on));
    by("depth-label").hidden = !on;
    const toward = eye.position.clone().sub(middle);
    const along = Math.abs(toward.x) > Math.abs(toward.y) ? "x" : "y";
    face.set(0, 0, 0)[along] = toward[along] > 0 ? -1 : 1;
    slide();
  }
  function slide() {
    const [front, back] = ends();
    plane.normal.copy(face);
    plane.constant = cutting ? -(front + (by("depth").value / 100) * (back - front)) : 1e9;
    section.visible = cutting;
    for (const mesh of stages.flatMap((group) => group.children)) if (mesh.userData.counted) mesh.visible = cutting;
    section.position.copy(middle).addScaledVector(face, -plane.distanceToPoint(middle));
    section.quaternion.setFromUnitVectors(UP, face);
    redraw();
  }
  function ends() { // of the work along the cut's direction
    const a = face.dot(room.min), b = face.dot(room.max);
    return [Math.min(a, b), Math.max(a, b)];
  }
  function cutAt(event) {
    if (!cutting) return;
    const box = canvas.getBoundingClientRect();
    const spot = new THREE.Vector2(
      (2 * (event.clientX - box.left)) / box.width - 1, 1 - (2 * (event.clientY - box.top)) / box.height,
    );
    const ray = new THREE.Raycaster();
    ray.setFromCamera(spot, eye);
    const hit = ray.intersectObjects(stages[at].children.filter((m) => m.isMesh && !m.userData.counted))[0];
    if (!hit) return;
    const [front, back] = ends();
    by("depth").value = (100 * (face.dot(hit.point) - front)) / (back - front || 1);
    slide();
  }
  by("cut").addEventListener("click", () => cutAway(!cutting));
  by("depth").addEventListener("input", slide);
  by("bare").addEventListener("click", () => {
    held.visible = !held.visible;
    by("bare").setAttribute("aria-pressed", String(!held.visible));
    redraw();
  });

  // -- steps forward and back
  const links = [...by("steps").querySelectorAll("a")];
  function step(to, told = true) {
    at = clamp(to, 0, stages.length - 1);
    stages.forEach((group, n) => { group.visible = n === at; });
    links.forEach((link, n) => {
      if (n === at) link.setAttribute("aria-current", "step"); else link.removeAttribute("aria-current");
    });
    if (told) by("step-told").textContent = links[at]?.textContent ?? "";
    history.replaceState(history.state, "", `?step=${at}`);
    if (!turned) look.round = side();
    redraw();
  }
  by("steps").addEventListener("click", (event) => {
    const link = event.target.closest("a");
    if (link) { event.preventDefault(); stop(); step(Number(link.dataset.step)); }
  });
  for (const [id, by_one] of [["back", -1], ["on", 1]]) {
    by(id).addEventListener("click", (event) => { event.preventDefault(); stop(); step(at + by_one); });
  }

  // From the side that shows more of what was cut; the eye stays where a person has put it.
  function side() {
    const fresh = stages[at].userData.fresh;
    return fresh > 0 ? -START.round : START.round;
  }

  let playing = 0;
  function stop() {
    playing += 1;
    by("play").setAttribute("aria-pressed", "false");
    for (const [n, group] of stages.entries()) {
      group.userData.cutter?.position.set(...found.head.steps[n].stands.at(-1));
    }
    redraw();
  }
  const wait = (ms) => new Promise((done) => { setTimeout(done, ms); });
  async function play() {
    stop();
    const mine = playing;
    by("play").setAttribute("aria-pressed", "true");
    if (at === stages.length - 1) step(0);
    while (playing === mine && at < stages.length - 1) {
      await wait(REST);
      if (playing !== mine) return;
      step(at + 1);
      if (MOVING.matches) await glide(mine);
    }
    if (playing === mine) { await wait(REST); stop(); }
  }
  // The cutter through the places its axis goes to, as fast over a long way as over a short one.
  async function glide(mine) {
    const cutter = stages[at].userData.cutter, stands = found.head.steps[at].stands;
    const begun = performance.now();
    while (cutter && playing === mine) {
      const share = Math.min(1, (performance.now() - begun) / GLIDE) * (stands.length - 1);
      const n = Math.min(Math.floor(share), stands.length - 2), part = share - n;
      cutter.position.set(...[0, 1, 2].map((i) => stands[n][i] + part * (stands[n + 1][i] - stands[n][i])));
      redraw();
      if (share >= stands.length - 1) return;
      await new Promise(requestAnimationFrame);
    }
  }
  by("play").addEventListener("click", () => {
    if (by("play").getAttribute("aria-pressed") === "true") stop(); else play();
  });

  canvas.hidden = false;
  by("tools").classList.remove("waiting");
  stand.classList.add("drawn");
  draw();
  cutAway(false);
  step(Number(stand.dataset.at), false);
}

canvas.addEventListener("webglcontextlost", plainly);
try {
  show(await read(stand.dataset.file));
} catch (wrong) {
  console.info(String(wrong));
  plainly();
}
