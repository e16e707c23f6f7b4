// Photographs go one request each, two at a time, with the progress of every file; a bad one stops no other.
"use strict";

(() => {
  const AT_ONCE = 2;
  const form = document.querySelector("[data-intake]");
  if (!form) return;
  const input = form.querySelector("input[type=file]");
  const place = document.getElementById("intake");
  const rows = place.querySelector("[data-intake-rows]");
  const said = place.querySelector("[data-intake-said]");
  const words = {};
  for (const word of document.getElementById("intake-words").content.children) {
    words[word.dataset.word] = word.textContent;
  }
  const waiting = [];
  let going = 0;
  let all = 0;
  let done = 0;

  form.addEventListener("submit", (event) => {
    if (!input.files.length) return;
    event.preventDefault();
    place.hidden = false;
    for (const file of input.files) queue(file);
    input.value = "";
    next();
  });

  function queue(file) {
    const row = document.getElementById("intake-row").content.firstElementChild.cloneNode(true);
    row.querySelector("[data-name]").textContent = file.name;
    row.querySelector("progress").setAttribute("aria-label", file.name);
    tell(row, "waiting");
    rows.append(row);
    all += 1;
    waiting.push({ file, row });
  }

  function next() {
    while (going < AT_ONCE && waiting.length) send(waiting.shift());
    said.textContent = (done === all ? said.dataset.over : said.dataset.going)
      .replace("{done}", done)
      .replace("{all}", all);
  }

  function send({ file, row }) {
    const body = new FormData(form);
    body.set(input.name, file, file.name);
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    request.setRequestHeader("HX-Request", "true");
    const bar = row.querySelector("progress");
    tell(row, "sending");
    request.upload.addEventListener("progress", (event) => {
      if (event.lengthComputable) bar.value = event.loaded / event.total;
    });
    request.upload.addEventListener("load", () => {
      bar.removeAttribute("value");
      tell(row, "preparing");
    });
    request.addEventListener("load", () => {
      if (request.getResponseHeader("HX-Redirect")) return stopped(file, row, "signed-out");
      if (request.status !== 200 && request.status !== 422) return stopped(file, row, "failed");
      row.outerHTML = request.responseText;
      over(true);
    });
    request.addEventListener("error", () => stopped(file, row, "lost"));
    going += 1;
    request.send(body);
  }

  function stopped(file, row, why) {
    tell(row, why);
    const again = document.createElement("button");
    again.type = "button";
    again.className = "word-button";
    again.textContent = words.again;
    again.addEventListener("click", () => {
      again.remove();
      waiting.push({ file, row });
      next();
    });
    const bar = row.querySelector("progress");
    bar.value = 0;
    row.append(again);
    over(false);
  }

  function over(finished) {
    going -= 1;
    if (finished) done += 1;
    next();
  }

  function tell(row, word) {
    row.querySelector("[data-state]").textContent = words[word];
  }

  // Leaving while files are on their way would lose them.
  window.addEventListener("beforeunload", (event) => {
    if (going || waiting.length) event.preventDefault();
  });
})();
