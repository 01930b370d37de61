// The pairing page: the code comes by the address's fragment (from the QR) or is typed.
const dark = matchMedia("(prefers-color-scheme: dark)").matches;
document.documentElement.dataset.plate = (localStorage.getItem("plate") || (dark ? "night" : "day"));

const form = document.getElementById("pair"), code = document.getElementById("code"), name = document.getElementById("name");
const says = document.getElementById("says");
name.value = localStorage.getItem("phone-name") || name.value;

async function comeIn() {
  says.textContent = "";
  try {
    const answer = await fetch("/pair", {
      method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ code: code.value, name: name.value }),
    });
    const told = await answer.json().catch(() => ({}));
    if (told.in) {
      localStorage.setItem("phone-name", name.value);
      window.location.replace("/");
      return;
    }
    says.textContent = told.says || (told.error ? told.error.says : "That did not work.");
  } catch {
    says.textContent = "The computer does not answer. Is this phone in the same network, and the door open?";
  }
  code.select();
}

form.addEventListener("submit", event => { event.preventDefault(); comeIn(); });

const given = window.location.hash.slice(1);
if (/^\d{6}$/.test(given)) {
  window.history.replaceState(null, "", "/");
  code.value = given;
  name.focus();
} else code.focus();
