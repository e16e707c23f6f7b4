// The row of tools under the picture: ways of drawing, undo, looking closer, and what to press now.
"use strict";

// `to`: { stage, editor, say, steps, begin(tool), go(step), whom() }.
export function toolsOf(page, { stage, editor, say, steps, begin, go, whom }) {
  const find = (selector) => page.querySelector(selector);
  const ways = [...page.querySelectorAll("[data-tool]")];

  function show() {
    const { tool, at, regions } = editor;
    for (const button of ways) button.setAttribute("aria-pressed", String(button.dataset.tool === tool));
    find("[data-for]").textContent = say(tool ? "drawing_for" : "draw_for", { letter: whom() });
    find("[data-close]").hidden = !(tool === "corners" && editor.path.length > 2);
    find("[data-step-back]").hidden = !(tool && editor.path.length);
    find("[data-leave]").hidden = !tool;
    find("[data-undo]").disabled = !steps.canUndo;
    find("[data-redo]").disabled = !steps.canRedo;
    const chosen = !tool && at && regions?.[at.region];
    find("[data-each-label]").hidden = !(chosen && editor.hasFrame(chosen));
    find("[data-delete]").hidden = !chosen;
    find("[data-delete]").textContent = say(chosen && at.corner !== null && !at.byFrame ? "delete_corner" : "delete_region");
    const hint = tool ?? "idle";
    find("[data-hint]").textContent = say(hint);
    find("[data-hint-keys]").textContent = say(hint === "oval" ? "box_keys" : `${hint}_keys`);
  }

  for (const button of ways) {
    button.addEventListener("click", () => begin(editor.tool === button.dataset.tool ? null : button.dataset.tool));
  }
  const acts = {
    "[data-close]": () => editor.close(),
    "[data-step-back]": () => editor.stepBack(),
    "[data-leave]": () => begin(null),
    "[data-undo]": () => go(-1),
    "[data-redo]": () => go(1),
    "[data-delete]": () => editor.remove(),
    "[data-closer]": () => stage.closer(1.6, editor.middleOnScreen()),
    "[data-whole-picture]": () => stage.whole(),
  };
  for (const [selector, act] of Object.entries(acts)) find(selector).addEventListener("click", act);
  find("[data-each]").addEventListener("change", (event) => {
    editor.eachCorner = event.target.checked;
    editor.at = editor.at && { region: editor.at.region, corner: null };
    stage.redraw();
    show();
  });
  stage.root.addEventListener("stage:closer", (event) => {
    find("[data-whole-picture]").disabled = event.detail === 1;
  });
  return { show };
}
