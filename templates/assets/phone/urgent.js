// Urgent, off line too: what to do first stands on the page of its own, which the worker keeps; here the record is made afterwards.
import { html } from "./library/lit-html.js";
import { t } from "./words.js";
import { address, go, say, fail } from "./frame.js";
import { urgent } from "./work.js";

const KINDS = ["gas", "carbon_monoxide", "sparks", "sewage", "flooding"];

export function urgentScreen(units, kind) {
  const send = async (event) => {
    event.preventDefault();
    const fields = new FormData(event.target);
    const unit = units.find((one) => one.id === Number(fields.get("unit"))) ?? null;
    try {
      await urgent(unit, fields.get("kind"), unit?.building.id ?? null, fields.get("note").trim());
      say(t("kept-urgent"));
      go(address(""), true);
    } catch {
      fail(t("no-room"));
      go(location.hash);
    }
  };
  return {
    title: t("urgent-record"), lead: "", place: "",
    body: html`<p class="strip wrong">${t("urgent-not-alarm")} <a href="/urgent">${t("urgent-what-first")}</a></p>
      <form id="urgent-form" @submit=${send}>
      <div class="field"><label for="kind">${t("urgent-kind")}</label><select id="kind" name="kind">${KINDS.map((code) => html`<option value=${code} ?selected=${code === kind}>${t(`urgent-${code.replace("_", "-")}`)}</option>`)}</select></div>
      <div class="field"><label for="unit">${t("where")}</label><select id="unit" name="unit"><option value="">${t("urgent-elsewhere")}</option>${units.map((one) => html`<option value=${one.id}>${one.building.code} ${one.unit.label}</option>`)}</select></div>
      <div class="field"><label for="urgent-note">${t("note")}</label><textarea id="urgent-note" name="note" rows="3" maxlength="2000"></textarea></div></form>`,
    bars: html`<button class="first" type="submit" form="urgent-form">${t("urgent-keep")}</button><a href="/urgent">${t("urgent-what-first")}</a>`,
  };
}
