#include <cmath>
#include <cstdint>
#include <string>

#include "base/embedded.hpp"
#include "report/kit/json_values.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

double form_grams(std::int64_t mg) { return static_cast<double>(mg) / 1000; }

Json form_row(const TreatmentPlan& treatment, std::size_t k) {
  const Weighing& weighing = treatment.weighings[k];
  Json json{{"material", material_name(weighing)},
            {"role", to_string(weighing.role)},
            {"target_g", json_number(weighing.target_g)},
            {"weigh_g", json_number(form_grams(weighing.mass_mg))},
            {"balance", weighing.balance},
            {"readability_g", json_number(form_grams(weighing.readability_mg))},
            {"weighings", weighing.parts_mg.size()},
            {"unit", unit_of(weighing.mass_mg, weighing.readability_mg)},
            {"from_g", 0},
            {"to_g", nullptr}};
  if (treatment.ranges.size() != treatment.weighings.size()) return json;
  const MassRange& range = treatment.ranges[k];
  json["from_g"] = json_number(range.from_g);
  if (std::isfinite(range.to_g)) json["to_g"] = json_number(range.to_g);
  return json;
}

Json form_rule(const LoadRule& rule) {
  return {{"rule", rule.rule},
          {"limit", json_number(rule.limit)},
          {"unit", to_string(rule.unit)},
          {"at_least", rule.at_least},
          {"unless_none", rule.unless_none},
          {"of", rule.of},
          {"to", rule.to}};
}

Json form_of(const TreatmentPlan& treatment) {
  Json rows = Json::array();
  for (std::size_t k = 0; k < treatment.weighings.size(); ++k)
    rows.push_back(form_row(treatment, k));
  return {{"code", treatment.code},
          {"name", treatment.name},
          {"batches", treatment.batch_codes},
          {"rows", std::move(rows)},
          {"rules", json_array(treatment.load_rules, form_rule)}};
}

Json mix_row(const StockMix& mix, const MixWeighing& weighing) {
  const Json grams = json_number(form_grams(weighing.mass_mg));
  return {{"material", weighing.material},
          {"role", role_in_mix(mix, weighing)},
          {"target_g", grams},
          {"weigh_g", grams},
          {"balance", weighing.balance},
          {"readability_g", json_number(form_grams(weighing.readability_mg))},
          {"weighings", 1},
          {"unit", unit_of(weighing.mass_mg, weighing.readability_mg)},
          {"from_g", 0},
          {"to_g", nullptr}};
}

/// A step of a stock mix, which no rule of a scenario is about.
Json form_of(const StockMix& mix, const MixStep& step) {
  return {{"code", ""},
          {"name", mix.code},
          {"batches", Json::array({step.batch_code})},
          {"rows", json_array(step.weighings,
                              [&](const MixWeighing& weighing) { return mix_row(mix, weighing); })},
          {"rules", Json::array()}};
}

/// JSON that may stand within a script element, whatever names it holds.
std::string within_a_page(const Json& json) {
  std::string safe;
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace)) {
    if (c == '<') {
      safe += "\\u003c";
    } else {
      safe += c;
    }
  }
  return safe;
}

}  // namespace

std::string_view form_policy() {
  return "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'";
}

void write_form(HtmlPage& page, const TrialPlan& plan) {
  Json loads = json_array(plan.treatments, [](const TreatmentPlan& t) { return form_of(t); });
  for (const auto& mix : plan.mixes) {
    for (const auto& step : mix.steps) loads.push_back(form_of(mix, step));
  }
  const Json form{{"code", plan.code}, {"id", plan.fingerprint}, {"treatments", std::move(loads)}};
  page.raw("<script type=\"application/json\" id=\"loads\">").raw(within_a_page(form));
  page.raw("</script>\n<script>\n").raw(embedded::trial_sheets_js()).raw("</script>\n");
}

}  // namespace leastwise::report
