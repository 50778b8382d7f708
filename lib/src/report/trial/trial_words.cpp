#include "report/trial/trial_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

constexpr std::int64_t mg_per_g = 1000;
constexpr std::int64_t mg_per_kg = 1000000;

/// `mg` divided by 10^`digits`, exactly; zeros at the end are cut down to `least` decimals.
std::string decimal(std::int64_t mg, int digits, int least) {
  std::int64_t power = 1;
  for (int i = 0; i < digits; ++i) power *= 10;
  std::string text = fmt::format("{}.{:0{}}", mg / power, mg % power, digits);
  while (least < digits && text.back() == '0') {
    text.pop_back();
    --digits;
  }
  if (text.back() == '.') text.pop_back();
  return text;
}

/// How many decimals show every digit of a balance, when masses are divided by 10^`digits`.
int decimals_of(std::int64_t readability_mg, int digits) {
  while (digits > 0 && readability_mg % 10 == 0) {
    readability_mg /= 10;
    --digits;
  }
  return digits;
}

}  // namespace

std::string exact_grams(std::int64_t mg) { return decimal(mg, 3, 0); }

std::string exact_kg(std::int64_t mg) { return decimal(mg, 6, 0) + " kg"; }

std::string exact_mass(std::int64_t mg) {
  return mg < mg_per_kg ? exact_grams(mg) + " g" : exact_kg(mg);
}

std::string mass_text(std::int64_t mg, std::int64_t readability_mg) {
  if (mg >= mg_per_kg && readability_mg >= mg_per_g) {
    return decimal(mg, 6, decimals_of(readability_mg, 6)) + " kg";
  }
  return decimal(mg, 3, decimals_of(readability_mg, 3)) + " g";
}

std::string round_mass_text(std::int64_t mg) {
  constexpr int digits = 5;
  const auto grams = static_cast<double>(mg) / static_cast<double>(mg_per_g);
  if (mg < mg_per_kg) return plain_text(grams, digits) + " g";
  return plain_text(grams / 1000, digits) + " kg";
}

std::string material_name(const Weighing& weighing) {
  return weighing.material.empty() ? "binder" : weighing.material;
}

std::string_view unit_of(std::int64_t mass_mg, std::int64_t readability_mg) {
  return mass_mg >= mg_per_kg && readability_mg >= mg_per_g ? "kg" : "g";
}

std::string_view role_in_mix(const StockMix& mix, const MixWeighing& weighing) {
  if (weighing.earlier_mix) return "stock mix";
  return weighing.material == mix.carrier ? "carrier" : "powder";
}

std::string parts_text(const Weighing& weighing) {
  if (weighing.parts_mg.size() < 2) return {};
  std::string parts;
  for (const auto part : weighing.parts_mg) {
    parts += (parts.empty() ? "" : " + ") + mass_text(part, weighing.readability_mg);
  }
  return fmt::format("in {} weighings: {}", weighing.parts_mg.size(), parts);
}

std::string asked_text(const Limits& limits) {
  if (limits.exact()) return "exactly " + plain_text(limits.min);
  if (limits.has_min() && limits.has_max()) {
    return fmt::format("{} to {}", plain_text(limits.min), plain_text(limits.max));
  }
  if (limits.has_min()) return "at least " + plain_text(limits.min);
  if (limits.has_max()) return "at most " + plain_text(limits.max);
  return {};
}

std::string signed_percent(double percent) {
  const double shown = std::round(percent * 100) / 100;
  if (shown == 0) return "0.00 %";
  return fmt::format("{:+.2f} %", shown);
}

bool has_figures(const RuleCheck& rule) {
  return rule.id.kind != RuleKind::exclusion && std::isfinite(rule.value);
}

std::string miss_text(const RuleCheck& rule) {
  if (rule.id.kind == RuleKind::exclusion) return "both are in it";
  if (!has_figures(rule)) return "nothing there to measure it against";
  const std::string missed = fmt::format("missed by {} %", plain_text(rule.missed_percent, 2));
  if (!rule.confidence) return missed;
  return fmt::format("{} for {} % of lots", missed, plain_text(100 * *rule.confidence));
}

std::string missed_text(const RuleCheck& rule) {
  if (!has_figures(rule)) return rule.rule + ": " + miss_text(rule);
  return fmt::format("{}: {} of {}, {}", rule.rule, plain_text(rule.value),
                     limit_text(rule.limit, rule.unit), miss_text(rule));
}

std::vector<std::string> coating_lines(const Coating& coating) {
  const std::string binder = coating.binder.empty() ? "binder" : coating.binder;
  return {
      fmt::format("Powders {} g; {} {} g, which is {} ml at {} kg/l ({})",
                  exact_grams(coating.powder_mg), binder, exact_grams(coating.binder_mg),
                  plain_text(coating.binder_ml, 4), plain_text(coating.binder_density_kg_per_l),
                  coating.density_source),
      fmt::format("Binder {} g per 1000 g of powder (common practice 350 to 400)",
                  plain_text(coating.binder_g_per_kg_powder, 4)),
      fmt::format("Load {} g per kg of granules: {} % of at most {} %",
                  plain_text(coating.load_g_per_kg, 4), plain_text(coating.percent, 3),
                  plain_text(coating.max_percent)),
  };
}

std::string bag_kg_text(double kg) {
  const int decimals = kg >= 10 ? 1 : kg >= 1 ? 2 : 3;
  if (kg > 0 && kg < 0.01) return plain_text(kg, 3);
  std::string text = fmt::format("{:.{}f}", kg, decimals);
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string layout_text(const TrialPlan& plan) {
  if (!plan.seed) return "in the order of the treatments";
  const bool complete = std::ranges::all_of(
      plan.sites, [](const Site& site) { return site.design == Design::complete_blocks; });
  return fmt::format("{}, seed {}", complete ? "randomised complete blocks" : "randomised",
                     *plan.seed);
}

std::string loads_text(const TreatmentPlan& plan) {
  if (plan.batch_codes.size() == 1) return "one load of " + exact_kg(plan.load_mg);
  return fmt::format("{} equal loads of {}", plan.batch_codes.size(), exact_kg(plan.load_mg));
}

std::string size_text(const TrialPlan& plan) {
  const auto counted = [](std::size_t count, std::string_view what) {
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
  };
  const auto plots = static_cast<std::size_t>(std::ranges::count_if(plan.plots, has_stake));
  return counted(plan.totals.size(), "treatment") + ", " + counted(plan.sites.size(), "site") +
         ", " + counted(plots, "plot") +
         (plan.applications.empty() ? "" : ", " + counted(plan.applications.size(), "application"));
}

std::vector<std::string> sources_of(const TrialPlan& plan) {
  std::vector<std::string> sources;
  const auto add = [&](const std::vector<Note>& notes) {
    for (const auto& note : notes) {
      if (note.source.empty()) continue;
      std::string what = capitalised(std::string(to_string(note.code)));
      std::ranges::replace(what, '-', ' ');
      std::string line = what + ": " + note.source;
      if (std::ranges::find(sources, line) == sources.end()) sources.push_back(std::move(line));
    }
  };
  add(plan.notes);
  for (const auto& treatment : plan.treatments) {
    add(treatment.stop_conditions);
    add(treatment.cautions);
    add(treatment.notes);
  }
  for (const auto& mix : plan.mixes) add(mix.cautions);
  return sources;
}

std::vector<std::string> texts_of(const std::vector<Note>& notes) {
  std::vector<std::string> texts;
  for (const auto& note : notes) texts.push_back(note.text);
  return texts;
}

std::string_view sheet_word(const Note& note) {
  if (note.code == NoteCode::must_not_be_kept) return "SAME DAY";
  if (note.level == NoteLevel::warning) return "STOP";
  if (note.level == NoteLevel::caution) return "CAUTION";
  return note.code == NoteCode::powder_check ? "CHECK" : "NOTE";
}

std::string_view state_of_plot(const TreatmentPlan& treatment) {
  const bool made = treatment.state == TreatmentState::planned;
  if (made || treatment.state == TreatmentState::nothing) return to_string(treatment.state);
  return "not made";
}

std::string not_made_text(TreatmentState state) {
  if (state == TreatmentState::unweighable)
    return "NOT MADE: no load found that these balances can weigh and that keeps its rules";
  return fmt::format("NOT MADE: {}", to_string(state));
}

std::string mass_of_plot_text(const Plot& plot, const TreatmentPlan& treatment) {
  if (treatment.state == TreatmentState::planned) return round_mass_text(mass_of(plot));
  return treatment.state == TreatmentState::nothing ? "none" : "NOT MADE";
}

std::string batches_text(const TreatmentPlan& treatment, std::size_t first, std::size_t last) {
  const std::string& start = treatment.batch_codes[first];
  if (first == last) return start;
  return fmt::format("{} {} B{}", start, last == first + 1 ? "+" : "to", last + 1);
}

std::string batches_text(const Plot& plot, const TreatmentPlan& treatment) {
  if (plot.packs.empty()) return {};
  return batches_text(treatment, plot.packs.front().first_load, plot.packs.back().last_load);
}

std::string spread_by_text(const TreatmentPlan& treatment) {
  const std::string day = treatment.spread_by.empty() ? "____________" : treatment.spread_by;
  if (treatment.same_day) return fmt::format("SPREAD BY {} (same day as mixed)", day);
  return fmt::format("Spread by {} (within about 4 weeks)", day);
}

std::string clock_text(int minutes) {
  constexpr int in_an_hour = 60;
  return fmt::format("{}:{:02}", minutes / in_an_hour, minutes % in_an_hour);
}

std::string load_mass_text(const TreatmentPlan& treatment) {
  std::int64_t digit = 1;
  for (const auto& weighing : treatment.weighings) digit = std::max(digit, weighing.readability_mg);
  return mass_text((treatment.load_mg + digit / 2) / digit * digit, digit);
}

std::string range_text(const TreatmentPlan& treatment, std::size_t weighing) {
  if (treatment.ranges.size() != treatment.weighings.size()) return {};
  const MassRange& range = treatment.ranges[weighing];
  const Weighing& row = treatment.weighings[weighing];
  const auto shown = [&](double grams) {
    return mass_text(static_cast<std::int64_t>(std::llround(grams * 1000)), row.readability_mg);
  };
  const bool limited = std::isfinite(range.to_g);
  if (range.from_g <= 0 && !limited) return {};
  if (range.from_g <= 0) return "at most " + shown(range.to_g);
  return limited ? shown(range.from_g) + " to " + shown(range.to_g)
                 : "at least " + shown(range.from_g);
}

std::int64_t mass_of(const Plot& plot) {
  return std::accumulate(plot.packs.begin(), plot.packs.end(), std::int64_t{0},
                         [](std::int64_t sum, const Pack& pack) { return sum + pack.mass_mg; });
}

}  // namespace leastwise::report
