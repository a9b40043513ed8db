"use strict";
// A row's face is tapped in a photo. The picture is drawn here and never sent; the points go
// into a field of the form, as they would be typed.
(() => {
  const box = document.getElementById("photo");
  if (!box) return;
  const field = document.getElementById("taps");
  const told = document.getElementById("told");
  const zoom = document.getElementById("zoom");
  const canvas = document.createElement("canvas");
  const frame = document.createElement("div");
  const pen = canvas.getContext("2d");
  const say = box.dataset.say.split("|");
  let picture = null;
  let times = 1;
  let taps = field.value.split(/[;\n]/).map((pair) => (pair.match(/-?\d+(\.\d+)?/g) || []).map(Number)).filter((p) => p.length === 2);
  box.hidden = false;
  told.style.minHeight = "5em"; // what is said must not move the picture under a finger
  frame.style.overflow = "auto";
  frame.style.maxHeight = "75vh";
  canvas.style.touchAction = "pan-x pan-y";
  frame.append(canvas);
  const button = (text, act) => {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = text;
    b.addEventListener("click", act);
    return b;
  };
  const more = document.createElement("p");
  more.className = "more";
  const show = () => {
    told.textContent = picture ? say[Math.min(taps.length, 4)] + (taps.length > 4 ? " " + (taps.length - 4) + " " + box.dataset.count + "." : "") : "";
    if (!picture) return;
    pen.drawImage(picture, 0, 0);
    const dot = Math.max(canvas.width, canvas.height) / 200;
    const line = (points, closed) => {
      pen.beginPath();
      points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
      if (closed) pen.closePath();
      for (const [style, width] of [["#fff", dot / 1.2], ["#000", dot / 2.5]]) {
        pen.strokeStyle = style;
        pen.lineWidth = width;
        pen.stroke();
      }
    };
    line(taps.slice(0, 2));
    line(taps.slice(2, 4));
    line(taps.slice(4), taps.length > 6);
    for (const [x, y] of taps) {
      pen.beginPath();
      pen.arc(x, y, dot, 0, 7);
      pen.fillStyle = "#fff";
      pen.fill();
      pen.lineWidth = dot / 2;
      pen.strokeStyle = "#000";
      pen.stroke();
    }
  };
  const changed = () => {
    field.value = taps.map(([x, y]) => x + ", " + y).join("; ");
    field.dispatchEvent(new Event("input", { bubbles: true }));
    show();
  };
  more.append(
    button(box.dataset.undo, () => {
      taps.pop();
      changed();
    }),
    " ",
    button(box.dataset.zoom, () => {
      times = times === 1 ? 3 : 1;
      canvas.style.width = 100 * times + "%";
      if (times > 1) zoom.value = times;
    }),
  );
  canvas.addEventListener("click", (event) => {
    const b = canvas.getBoundingClientRect();
    taps.push([Math.round((event.clientX - b.left) / b.width * canvas.width), Math.round((event.clientY - b.top) / b.height * canvas.height)]);
    changed();
  });
  document.getElementById("picture").addEventListener("change", async (event) => {
    const file = event.target.files[0];
    if (!file) return;
    picture = await createImageBitmap(file);
    canvas.width = picture.width;
    canvas.height = picture.height;
    canvas.style.width = "100%";
    document.getElementById("width").value = picture.width;
    document.getElementById("height").value = picture.height;
    if (!zoom.value) zoom.value = 1;
    box.append(frame, more);
    show();
  });
  field.addEventListener("change", () => {
    taps = field.value.split(/[;\n]/).map((pair) => (pair.match(/-?\d+(\.\d+)?/g) || []).map(Number)).filter((p) => p.length === 2);
    show();
  });
})();
