#include "report/trial/trial_mixes.hpp"

#include <fmt/format.h>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_solutions.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view how_to_mix =
    "Put the powder between two layers of carrier in a jar or a bag no more than half full, close "
    "it and turn it slowly for 5 minutes; let the dust settle, break lumps, turn it again (common "
    "practice). It must look even.";

constexpr std::string_view protection =
    "Fitted particle respirator, goggles and gloves on before a powder is opened; no draught.";

std::string share_text(const MixPart& part) {
  return fmt::format("{} {} %", part.material, plain_text(100 * part.fraction, 5));
}

std::string batches_of(const StockMix& mix) {
  std::string text;
  constexpr std::size_t most = 12;
  for (std::size_t b = 0; b < mix.batch_codes.size() && b < most; ++b)
    text += (text.empty() ? "" : ", ") + mix.batch_codes[b];
  if (mix.batch_codes.size() > most)
    text += fmt::format(" and {} more", mix.batch_codes.size() - most);
  return text;
}

std::string step_heading(const StockMix& mix, std::size_t s) {
  return mix.steps.size() == 1
             ? fmt::format("Weigh ({})", mix.steps[s].batch_code)
             : fmt::format("Step {} of {} ({})", s + 1, mix.steps.size(), mix.steps[s].batch_code);
}

/// Whether a load of a later application takes from a mix.
bool is_kept(const TrialPlan& plan, const StockMix& mix) {
  for (const auto& treatment : plan.treatments) {
    if (treatment.application <= mix.application) continue;
    for (const auto& weighing : treatment.weighings)
      if (weighing.mix && &plan.mixes[*weighing.mix] == &mix) return true;
  }
  return false;
}

std::vector<std::string_view> steps_of(const StockMix& mix) {
  return mix.solution ? solution_steps() : std::vector<std::string_view>{how_to_mix};
}

}  // namespace

std::string mix_title(const StockMix& mix) {
  return mix.solution ? capitalised(mix.code) : "Stock " + mix.code;
}

std::vector<std::string> mix_facts(const TrialPlan& plan, const StockMix& mix) {
  std::string holds;
  for (const auto& part : mix.parts) holds += (holds.empty() ? "" : "; ") + share_text(part);
  std::vector<std::string> facts{
      fmt::format("Gives {}: {} take {}, {} is left over", exact_mass(mix.mass_mg),
                  mix.solution ? "plots" : "loads", exact_mass(mix.taken_mg),
                  exact_mass(mix.mass_mg - mix.taken_mg)),
      "Holds " + holds};
  if (mix.solution) {
    const auto plots = solution_facts(plan, mix);
    facts.insert(facts.end(), plots.begin(), plots.end());
  } else {
    facts.push_back("For " + batches_of(mix));
  }
  if (is_kept(plan, mix)) {
    facts.emplace_back(
        "Loads of a later application take from it too: keep it closed and dry, and make it anew "
        "where it lumps or changes colour");
  }
  if (mix.carrier_in_load) {
    facts.push_back(fmt::format("The sheets of these loads weigh less {}, since the mix brings it",
                                mix.carrier));
  }
  return facts;
}

std::string carrier_text(const StockMix& mix) {
  const bool inert = mix.carrier == "inert carrier";
  if (!inert) return {};
  return "The inert carrier is a dry, fine mineral powder such as talc or kaolin. No lime, which "
         "frees ammonia; no flour, starch, sugar or other organic matter, which burns with "
         "oxidizers.";
}

void write_mix(Page& page, const TrialPlan& plan, const StockMix& mix) {
  page.heading(mix_title(mix));
  for (const auto& fact : mix_facts(plan, mix)) page.item("  ", fact);
  for (const auto& note : mix.cautions) page.warning_item("  - ", note.text);
  page.warning_item("  - ", std::string(protection));
  if (const auto text = carrier_text(mix); !text.empty()) page.warning_item("  - ", text);
  for (std::size_t s = 0; s < mix.steps.size(); ++s) {
    page.heading(step_heading(mix, s));
    Table table;
    for (const auto* heading : {"done", "material", "weigh", "on", "lot", "actual g", "by"})
      table.add_words(heading);
    for (const auto& weighing : mix.steps[s].weighings) {
      table.add_row({"[ ]", weighing.material, mass_text(weighing.mass_mg, weighing.readability_mg),
                     weighing.balance, "______", "______", "___"});
    }
    page.table(table);
  }
  for (const auto step : steps_of(mix)) page.item("  - ", std::string(step));
  if (mix.solution) write_sprayed_plots(page, plan, mix);
}

void write_mix_sheet(HtmlPage& page, const TrialPlan& plan, const StockMix& mix) {
  std::size_t number = plan.treatments.size();  // of its first step among the loads of the form
  for (const auto& other : plan.mixes) {
    if (&other == &mix) break;
    number += other.steps.size();
  }
  page.open_sheet("batch mix");
  page.raw("<table class=\"paper\">\n<thead><tr><td><div class=\"head\">\n");
  page.element("h1", mix.solution ? "Solution" : "Stock mix");
  page.element("div", mix.code, "class=\"code\"");
  page.raw("</div></td></tr></thead>\n<tbody><tr><td>\n");
  page.element("p", plan.title);
  if (const auto round = application_text(plan, mix.application); !round.empty())
    page.element("p", capitalised(round), "class=\"strong\"");
  for (const auto& fact : mix_facts(plan, mix)) page.element("p", with_full_stop(fact));
  page.element("p", protection, "class=\"strong\"");
  for (const auto& note : mix.cautions) page.element("p", note.text, "class=\"strong\"");
  if (const auto text = carrier_text(mix); !text.empty())
    page.element("p", text, "class=\"strong\"");
  for (std::size_t s = 0; s < mix.steps.size(); ++s) {
    page.element("h2", step_heading(mix, s));
    page.raw(fmt::format("<div data-batch=\"{}\" data-treatment=\"{}\">\n",
                         escaped(mix.steps[s].batch_code), number + s));
    page.open_table("weigh", {"", "material", ">weigh", "lot no.", "actual", "initials"});
    for (const auto& weighing : mix.steps[s].weighings) {
      page.raw("<tr data-row><td><span class=\"box\"></span></td><td><div class=\"name\">");
      page.raw(escaped(weighing.material)).raw("</div><div class=\"small\">");
      page.raw(escaped("on " + weighing.balance)).raw("</div></td>");
      page.element("td", mass_text(weighing.mass_mg, weighing.readability_mg), "class=\"mass\"");
      write_blanks(page, unit_of(weighing.mass_mg, weighing.readability_mg));
      page.raw("</tr>\n");
    }
    page.close_table();
    page.raw("</div>\n");
  }
  page.open_ticks();
  for (const auto step : steps_of(mix)) page.tick(step);
  page.tick(
      fmt::format("Label it: {}, date, initials.{}", mix.code,
                  mix.solution ? " Out of the reach of children." : " Keep it closed and dry."));
  page.close_ticks();
  if (mix.solution) write_sprayed_plots(page, plan, mix);
  page.raw(
      "<div class=\"closing\">\n<div class=\"sign\"><span>Date</span><span>Mixed by</span>"
      "<span>Checked by</span><span>Mix left, g</span></div>\n</div>\n");
  page.raw("</td></tr></tbody>\n</table>\n");
  page.close_sheet();
}

}  // namespace leastwise::report
