// The report page comes alive: one slider swings the gate in 3D, in plan and on the curves.
// Plan frame as in Python: mm, degrees, x along the closed leaf of a right hand, y to the actuator.
"use strict";
(() => {
  document.documentElement.classList.remove("no-script");
  const gate = JSON.parse(document.getElementById("gate").textContent);
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const rad = (degrees) => (degrees * Math.PI) / 180;
  const deg = (radians) => (radians * 180) / Math.PI;

  // ---- motion: the same closed form as pivots/kinematics.py and LeafDesign.pose ----

  function turned([x, y], angle) {
    const c = Math.cos(rad(angle)), s = Math.sin(rad(angle));
    return [c * x - s * y, s * x + c * y];
  }

  // Where the coordinates that a thing rides in stand: right hand.
  function pose(leaf, rides, angle) {
    if (rides === "ground") return { x: 0, y: 0, turn: 0 };
    if (rides === "leaf") return { x: 0, y: 0, turn: angle };
    const pin = turned(leaf.leaf, angle);
    const turn = deg(Math.atan2(pin[1] - leaf.post[1], pin[0] - leaf.post[0]));
    const [x, y] = rides === "tube" ? leaf.post : pin;
    return { x, y, turn };
  }

  // The same for the leaf's own hand, in the assembly of the whole gate.
  function standing(leaf, rides, angle) {
    const { x, y, turn } = pose(leaf, rides, angle);
    const side = leaf.hand === "right" ? 1 : -1;
    return { x: side * x + leaf.shift, y, turn: side * turn };
  }

  function state(leaf, angle) {
    const pin = turned(leaf.leaf, angle);
    const dx = pin[0] - leaf.post[0], dy = pin[1] - leaf.post[1];
    const length = Math.hypot(dx, dy);
    const leverage = (leaf.post[1] * dx - leaf.post[0] * dy) / length;
    return {
      angle: Math.abs(angle),
      length,
      leverage,
      pin_force: leaf.torque / leverage,
      leaf_speed: deg(leaf.speed / leverage),
      edge_speed: (leaf.speed / leverage) * leaf.width,
      edge_force: (leaf.thrust * leverage) / leaf.width,
    };
  }

  // ---- the share of the opening that everything shows ----

  const slider = document.getElementById("opening");
  const play = document.getElementById("play");
  const shown = document.getElementById("opening-shown");
  const steps = Number(slider.max);
  const watchers = [];
  let share = 0;

  function show(next, from) {
    share = Math.min(Math.max(next, 0), 1);
    if (from !== slider) slider.value = String(Math.round(share * steps));
    const angles = gate.leaves.map((leaf) => leaf.open * share);
    const told = angles.map((angle) => Math.abs(angle).toFixed(1));
    const words = told.length > 1 && told.every((one) => one === told[0])
      ? `both leaves ${told[0]}\u00b0`
      : gate.leaves
      .map((leaf, k) => `${leaf.name ? leaf.name + " leaf " : ""}${told[k]}\u00b0`)
      .join(", ");
    shown.textContent = words;
    slider.setAttribute("aria-valuetext", `open by ${words.replace(/\u00b0/g, " degrees")}`);
    for (const watcher of watchers) watcher(angles);
  }

  slider.addEventListener("input", () => {
    stop();
    show(Number(slider.value) / steps, slider);
  });

  const ONE_WAY = 4000; // ms from closed to open, whatever the real gate takes
  let running = 0, way = 1, last = 0;

  function stop() {
    cancelAnimationFrame(running);
    running = 0;
    play.setAttribute("aria-pressed", "false");
    play.querySelector("span").textContent = "Play";
  }

  function tick(now) {
    const next = share + (way * Math.min(now - last, 100)) / ONE_WAY;
    last = now;
    if (next >= 1 || next <= 0) way = next >= 1 ? -1 : 1;
    running = requestAnimationFrame(tick);
    show(next);
  }

  play.addEventListener("click", () => {
    if (running) return stop();
    play.setAttribute("aria-pressed", "true");
    play.querySelector("span").textContent = "Stop";
    if (share >= 1) way = -1;
    last = performance.now();
    running = requestAnimationFrame(tick);
  });

  // ---- plan: groups that ride are moved, the drawing's y runs downwards ----

  const riding = all("[data-rides]").filter((group) => group.dataset.rides !== "ground");
  watchers.push((angles) => {
    for (const group of riding) {
      const leaf = gate.leaves[group.dataset.leaf];
      const at = standing(leaf, group.dataset.rides, angles[group.dataset.leaf]);
      group.setAttribute(
        "transform",
        `translate(${at.x.toFixed(3)} ${(-at.y).toFixed(3)}) rotate(${(-at.turn).toFixed(4)})`,
      );
    }
  });

  // ---- curves and figures at the angle shown ----

  const PLACES = { angle: 1, length: 1, leverage: 1, pin_force: 0, leaf_speed: 2, edge_speed: 0, edge_force: 0 };
  const curves = all("figure[data-curve]").map((figure) => ({
    leaf: Number(figure.dataset.leaf),
    frame: JSON.parse(figure.dataset.curve),
    cursor: figure.querySelector(".cursor"),
  }));
  const readings = all("output[data-reading]");
  watchers.push((angles) => {
    const now = gate.leaves.map((leaf, k) => state(leaf, angles[k]));
    for (const { leaf, frame, cursor } of curves) {
      const [x0, x1] = frame.x, [y0, y1] = frame.y;
      const x = x0 + ((x1 - x0) * now[leaf].angle) / frame.opening;
      const y = y0 + ((y1 - y0) * now[leaf][frame.key]) / frame.per / frame.top;
      cursor.querySelector("path").setAttribute("transform", `translate(${x.toFixed(2)} 0)`);
      cursor.querySelector("circle").setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
    }
    for (const reading of readings) {
      const { leaf, reading: key, per = 1, places = PLACES[key] } = reading.dataset;
      reading.textContent = (now[leaf][key] / per).toFixed(places);
    }
  });

  // ---- tables: a heading sorts, a long table opens ----

  for (const table of all("table.sorts")) {
    const heads = all("thead th", table), body = table.tBodies[0];
    heads.forEach((head, column) => {
      const button = head.querySelector("button");
      if (!button) return;
      button.addEventListener("click", () => {
        const up = head.getAttribute("aria-sort") !== "ascending";
        heads.forEach((other) => other.removeAttribute("aria-sort"));
        head.setAttribute("aria-sort", up ? "ascending" : "descending");
        const key = (row) => row.cells[column].dataset.sort ?? row.cells[column].querySelector("data")?.value
          ?? row.cells[column].textContent.trim();
        const order = (a, b) => {
          const [p, q] = [key(a), key(b)], [m, n] = [Number(p), Number(q)];
          const both = p !== "" && q !== "" && !Number.isNaN(m) && !Number.isNaN(n);
          return (both ? m - n : p.localeCompare(q)) * (up ? 1 : -1);
        };
        body.append(...all("tr", body).sort(order));
      });
    });
  }
  for (const more of all("button.more")) {
    const table = document.getElementById(more.getAttribute("aria-controls"));
    table.classList.add("short");
    more.hidden = false;
    more.addEventListener("click", () => {
      const short = table.classList.toggle("short");
      more.setAttribute("aria-expanded", String(!short));
      more.textContent = short ? more.dataset.more : more.dataset.less;
    });
  }

  // ---- the gate in 3D ----

  const holder = document.getElementById("scene");
  const view = hasWebGL() ? scene3d(holder) : null;
  if (!view) holder.classList.add("still");

  function hasWebGL() {
    try {
      return Boolean(document.createElement("canvas").getContext("webgl2"));
    } catch {
      return false;
    }
  }

  function numbers(text, kind) {
    return new kind(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer);
  }

  function geometry(piece) {
    const made = new Solid.BufferGeometry();
    const corners = numbers(piece.corners, Uint16Array);
    const points = new Float32Array(corners.length);
    for (let k = 0; k < corners.length; k++) {
      points[k] = piece.low[k % 3] + (piece.span[k % 3] * corners[k]) / 65535;
    }
    made.setAttribute("position", new Solid.BufferAttribute(points, 3));
    const triangles = numbers(piece.triangles, piece.wide ? Uint32Array : Uint16Array);
    made.setIndex(new Solid.BufferAttribute(triangles, 1));
    made.computeVertexNormals();
    return made;
  }

  function scene3d(figure) {
    const canvas = document.createElement("canvas");
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", figure.dataset.label);
    const renderer = new Solid.WebGLRenderer({ canvas, antialias: true, alpha: true });
    const scene = new Solid.Scene();
    const camera = new Solid.PerspectiveCamera(2, 1.6, 10, 60000);
    camera.up.set(0, 0, 1);
    const lamp = new Solid.DirectionalLight(0xffffff, 1.9);
    scene.add(new Solid.HemisphereLight(0xffffff, 0x9a9a9a, 2.1), camera);
    camera.add(lamp, lamp.target);
    lamp.position.set(-500, 800, 0);
    lamp.target.position.set(0, 0, -1000);

    const line = new Solid.LineBasicMaterial({ color: 0x15191e, transparent: true, opacity: 0.75 });
    const pieces = gate.pieces.map((piece) => {
      const group = new Solid.Group();
      group.name = piece.name;
      const shape = geometry(piece);
      const colour = new Solid.Color().setRGB(...piece.colour.map((c) => Math.min(1.25 * c, 1)), "srgb");
      const skin = new Solid.MeshLambertMaterial({
        color: colour, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
      });
      group.add(new Solid.Mesh(shape, skin));
      group.add(new Solid.LineSegments(new Solid.EdgesGeometry(shape, 26), line));
      scene.add(group);
      return { ...piece, group };
    });

    const controls = new Solid.OrbitControls(camera, canvas);
    controls.enablePan = false;
    controls.maxPolarAngle = Math.PI * 0.55;
    // A page is scrolled over the picture far more often than the picture is zoomed.
    controls.enableZoom = false;
    canvas.addEventListener("focus", () => (controls.enableZoom = true));
    canvas.addEventListener("blur", () => (controls.enableZoom = false));
    canvas.style.touchAction = "pan-y";

    let asked = false;
    function draw() {
      if (asked) return;
      asked = true;
      requestAnimationFrame(() => {
        asked = false;
        renderer.render(scene, camera);
      });
    }
    controls.addEventListener("change", draw);

    function dark() {
      line.color.set(matchMedia("(prefers-color-scheme: dark)").matches ? 0x05070a : 0x15191e);
      draw();
    }
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", dark);

    function fit() {
      const wide = figure.clientWidth, high = Math.round(Math.min(wide * 0.62, innerHeight * 0.7));
      renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
      renderer.setSize(wide, high, true);
      camera.aspect = wide / high;
      camera.updateProjectionMatrix();
      draw();
    }

    // Look from a direction (degrees about z away from straight on, degrees above level), with all
    // that is wanted in view, wherever it swings.
    function look(wanted, [turn, rise]) {
      const side = gate.leaves[0].hand === "right" ? 1 : -1;
      const a = rad(turn), b = rad(rise), before = share;
      const toward = new Solid.Vector3(-side * Math.sin(a) * Math.cos(b), Math.cos(a) * Math.cos(b), Math.sin(b));
      const across = new Solid.Vector3().crossVectors(camera.up, toward).normalize();
      const upward = new Solid.Vector3().crossVectors(toward, across);
      const axes = [across, upward, toward], low = [1e9, 1e9, 1e9], high = [-1e9, -1e9, -1e9];
      const point = new Solid.Vector3();
      for (const part of [0, 0.25, 0.5, 0.75, 1]) {
        show(part);
        for (const piece of pieces.filter(wanted)) {
          piece.group.updateMatrixWorld();
          for (let k = 0; k < 8; k++) {
            point.fromArray(piece.low.map((x, i) => x + ((k >> i) & 1) * piece.span[i]));
            point.applyMatrix4(piece.group.matrixWorld);
            axes.forEach((axis, i) => {
              low[i] = Math.min(low[i], point.dot(axis));
              high[i] = Math.max(high[i], point.dot(axis));
            });
          }
        }
      }
      show(before);
      const half = axes.map((_, i) => (high[i] - low[i]) / 2);
      const far = (1.04 * Math.max(half[1], half[0] / camera.aspect)) / Math.tan(rad(camera.fov) / 2) + half[2];
      controls.target.set(0, 0, 0);
      axes.forEach((axis, i) => controls.target.addScaledVector(axis, (high[i] + low[i]) / 2));
      camera.position.copy(controls.target).addScaledVector(toward, far);
      camera.near = far / 20;
      camera.far = far * 4;
      camera.updateProjectionMatrix();
      controls.update();
      draw();
    }
    const VIEWS = {
      whole: () => look(() => true, [28, 24]),
      near: () => look((piece) => piece.near && piece.leaf === 0, [28, 26]),
      above: () => look(() => true, [0, 89.5]),
    };
    for (const button of all("button[data-view]")) {
      button.addEventListener("click", () => VIEWS[button.dataset.view]());
    }

    canvas.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: [-8, 0, 1], ArrowRight: [8, 0, 1], ArrowUp: [0, 6, 1], ArrowDown: [0, -6, 1],
        "+": [0, 0, 0.85], "=": [0, 0, 0.85], "-": [0, 0, 1 / 0.85] }[event.key];
      if (!step) return;
      event.preventDefault();
      const arm = camera.position.clone().sub(controls.target);
      const far = arm.length() * step[2];
      const around = Math.atan2(arm.y, arm.x) + rad(step[0]);
      const rise = Math.min(Math.max(Math.asin(arm.z / arm.length()) + rad(step[1]), rad(-8)), rad(89));
      arm.set(Math.cos(around) * Math.cos(rise), Math.sin(around) * Math.cos(rise), Math.sin(rise));
      camera.position.copy(controls.target).addScaledVector(arm, far);
      controls.update();
      draw();
    });

    watchers.push((angles) => {
      for (const { group, leaf, rides } of pieces) {
        const at = standing(gate.leaves[leaf], rides, angles[leaf]);
        group.position.set(at.x, at.y, 0);
        group.rotation.z = rad(at.turn);
      }
      draw();
    });

    figure.prepend(canvas);
    figure.classList.add("live");
    new ResizeObserver(fit).observe(figure);
    fit();
    dark();
    canvas.addEventListener("webglcontextlost", () => figure.classList.replace("live", "still"));
    return { scene, camera, pieces, start: VIEWS.near, whole: VIEWS.whole };
  }

  show(0);
  if (view) {
    view.scene.updateMatrixWorld(true);
    view.whole();
  }

  // What a test, or a curious person at the console, can ask.
  window.hangpost = { gate, pose, standing, state, show, scene: view && view.scene };
})();
