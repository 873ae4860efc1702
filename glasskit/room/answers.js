const page = document.body.dataset;
let shown = "";
setInterval(async () => {
  let answer;
  try { answer = await fetch(page.ask); } catch { return; }
  if (answer.status === 403) location.replace(page.home);
  if (!answer.ok) return;
  const [version, said, ...told] = (await answer.text()).split("\n");
  if (version !== page.version) { location.replace(page.home); return; }
  const html = told.join("\n");
  if (!said || shown === said + html) return;
  shown = said + html;
  document.getElementById("said").textContent = said;
  document.getElementById("told").innerHTML = html;
}, 3000);
