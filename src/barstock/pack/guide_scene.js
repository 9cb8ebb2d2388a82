// Shows a guide and sets its block moving between its stops. Reads the scene from #scene-N.
import * as THREE from "three";
import { OrbitControls } from "orbit";

const INK = 0x111111;
const STILL = matchMedia("(prefers-reduced-motion: reduce)").matches;

class Show {
  constructor(figure) {
    this.data = JSON.parse(figure.querySelector("script").textContent);
    this.figure = figure;
    this.place = figure.querySelector(".stage");
    this.renderer = new THREE.WebGLRenderer({ antialias: true });
    this.renderer.setClearColor(0xffffff);
    this.place.append(this.renderer.domElement);
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(28, 1, 1, 5000);
    this.camera.up.set(0, 0, 1);
    this.scene.add(new THREE.HemisphereLight(0xffffff, 0xb8b2a4, 2.2));
    const sun = new THREE.DirectionalLight(0xffffff, 1.6);
    sun.position.set(-30, -55, 78);
    this.scene.add(sun);
    this.block = new THREE.Group();
    this.fixed = [];
    for (const body of this.data.bodies) this.add(body);
    this.scene.add(this.block);
    this.touches = new THREE.Group();
    this.scene.add(this.touches);
    this.frame();
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.addEventListener("change", () => this.draw());
    this.motion = this.data.motions.find((m) => m.asked) ?? this.data.motions[0];
    this.at = 0;
    this.playing = false;
    this.controlsMade();
    new ResizeObserver(() => this.resize()).observe(this.place);
    this.resize();
    this.pose();
  }

  add(body) {
    const made = new THREE.BufferGeometry();
    made.setAttribute("position", new THREE.Float32BufferAttribute(body.triangles, 3));
    made.computeVertexNormals();
    const skin = new THREE.Mesh(made, new THREE.MeshLambertMaterial({
      color: body.moves ? 0xe9dfc4 : 0xb9bec6, side: THREE.DoubleSide,
      polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
    }));
    const drawn = new THREE.BufferGeometry();
    drawn.setAttribute("position", new THREE.Float32BufferAttribute(body.lines, 3));
    const lines = new THREE.LineSegments(drawn, new THREE.LineBasicMaterial({ color: INK }));
    const group = new THREE.Group();
    group.add(skin, lines);
    if (body.moves) {
      this.block.add(group);
    } else {
      made.computeBoundingBox();
      const middle = made.boundingBox.getCenter(new THREE.Vector3());
      this.fixed.push({ group, skin, out: middle.normalize() });
      this.scene.add(group);
    }
  }

  frame() {
    const room = new THREE.Box3().setFromObject(this.scene);
    this.size = room.getSize(new THREE.Vector3()).length();
    this.camera.position.set(0.5, -1, 0.55).normalize().multiplyScalar(this.size * 2.1);
    this.camera.lookAt(0, 0, 0);
  }

  controlsMade() {
    const choice = this.figure.querySelector("select");
    for (const motion of this.data.motions) {
      const option = document.createElement("option");
      option.value = option.textContent = motion.name;
      option.selected = motion === this.motion;
      choice.append(option);
    }
    choice.addEventListener("change", () => {
      this.motion = this.data.motions.find((m) => m.name === choice.value);
      this.pose();
    });
    this.slider = this.figure.querySelector(".amount");
    this.slider.addEventListener("input", () => {
      this.play(false);
      this.at = Number(this.slider.value);
      this.pose();
    });
    this.figure.querySelector(".apart").addEventListener("input", (event) => {
      const far = Number(event.target.value) * this.size * 0.35;
      for (const { group, out } of this.fixed) group.position.copy(out).multiplyScalar(far);
      this.draw();
    });
    this.figure.querySelector(".glass").addEventListener("change", (event) => {
      for (const { skin } of this.fixed) {
        skin.material.transparent = event.target.checked;
        skin.material.opacity = event.target.checked ? 0.25 : 1;
        skin.material.depthWrite = !event.target.checked;
      }
      this.draw();
    });
    this.button = this.figure.querySelector("button");
    this.button.addEventListener("click", () => this.play(!this.playing));
    if (!STILL) this.play(true);
  }

  play(on) {
    this.playing = on;
    this.button.textContent = on ? "stop" : "move it";
    if (on) {
      this.began = performance.now() - (Math.asin(this.at) / (2 * Math.PI)) * 4000;
      requestAnimationFrame((now) => this.step(now));
    }
  }

  step(now) {
    if (!this.playing) return;
    this.at = Math.sin(((now - this.began) / 4000) * 2 * Math.PI);
    this.slider.value = this.at;
    this.pose();
    requestAnimationFrame((later) => this.step(later));
  }

  // at: from -1, at the one stop, to 1 at the other
  pose() {
    const stop = this.motion.stops[this.at < 0 ? 1 : 0];
    const share = Math.abs(this.at);
    const amount = stop.amount * share;
    const shift = new THREE.Vector3(...stop.shift).multiplyScalar(share);
    const axis = new THREE.Vector3(...this.motion.axis);
    if (this.motion.turns) {
      this.block.setRotationFromAxisAngle(axis, (amount * Math.PI) / 180);
    } else {
      this.block.rotation.set(0, 0, 0);
      if (!stop.stopped) shift.addScaledVector(axis, amount);
    }
    this.block.position.copy(shift);
    this.marks(share > 0.985 ? stop.touches : []);
    const figures = this.motion.unit === "°" ? 2 : 3;
    this.figure.querySelector("output").textContent =
      `${this.motion.words}: ${amount.toFixed(figures)} ${this.motion.unit}` +
      (share > 0.985 && stop.stopped ? ", and touches" : "");
    this.draw();
  }

  marks(points) {
    this.touches.clear();
    for (const point of points) {
      const dot = new THREE.Mesh(
        new THREE.SphereGeometry(this.size * 0.012, 16, 12),
        new THREE.MeshBasicMaterial({ color: INK, depthTest: false }),
      );
      dot.position.set(...point);
      this.touches.add(dot);
    }
  }

  resize() {
    const wide = this.place.clientWidth;
    const high = Math.min(wide * 0.62, 520);
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setSize(wide, high);
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  draw() {
    this.renderer.render(this.scene, this.camera);
  }
}

for (const figure of document.querySelectorAll(".scene")) {
  try {
    new Show(figure);
  } catch {
    figure.querySelector(".stage").textContent = "This browser shows no solids; the pictures below do.";
  }
}
