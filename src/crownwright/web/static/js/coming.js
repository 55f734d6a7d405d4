// What is still being worked out: asked after until it is there, then put in its place. Nothing that was typed is touched.
const EVERY = 600; // ms; longer each time the desk does not answer
const LONGEST = 8000;
const wait = (ms) => new Promise((done) => { setTimeout(done, ms); });

function putIn(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  for (const part of fresh.querySelectorAll("body > [id]")) document.getElementById(part.id)?.replaceWith(document.adoptNode(part));
}

async function follow(place) {
  const said = place.querySelector(".coming") ?? place;
  for (let pause = EVERY; ;) {
    await wait(pause);
    try {
      const answer = await fetch(place.dataset.coming);
      if (answer.status === 202) pause = EVERY;
      else if (answer.ok) return putIn(await answer.text());
      else return location.reload(); // the page itself says what is wrong
    } catch {
      pause = Math.min(pause * 2, LONGEST);
      said.dataset.away = "The desk does not answer; asking again.";
    }
  }
}

document.querySelectorAll("[data-coming]").forEach(follow);
