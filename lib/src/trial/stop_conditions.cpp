#include "trial/stop_conditions.hpp"

#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "base/text/wording.hpp"
#include "chemistry/materials/critical_humidity.hpp"
#include "scenario/family_checks.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

// Differences in size between two granules, relative to the mean of the blend. Source: manuals of
// bulk-blend quality, from memory.
constexpr double good_match_percent = 10;
constexpr double poor_match_percent = 20;
constexpr std::string_view size_source =
    "size guide numbers within 10 % of the mean match, over 20 % segregate: bulk-blend quality "
    "manuals, from memory";
// Uniformity index. Source: bulk-blend manuals of the Canadian and the American industry bodies,
// from memory.
constexpr double least_uniformity = 40;
constexpr double most_uniformity = 60;
constexpr std::string_view uniformity_source = "bulk-blend manuals, from memory";

using Granules = std::vector<std::pair<const Material*, double>>;  ///< with their mass

std::string whole(double value) { return number_text(std::round(value)); }

const Material* find(const Scenario& scenario, const Weighing& weighing) {
  const auto i = scenario.index_of(weighing.material);
  return weighing.role != Role::binder && i ? &scenario.materials()[*i] : nullptr;
}

void add_grinding(const Scenario& scenario, const std::vector<Weighing>& load,
                  std::vector<Note>& notes) {
  for (const auto& weighing : load) {
    const Material* material = find(scenario, weighing);
    if (material == nullptr || material->form == Form::granule) continue;
    const std::string name = in_quotes(material->name);
    if (material->form == Form::powder) {
      notes.push_back({NoteLevel::info,
                       NoteCode::powder_check,
                       {material->name},
                       name + " must be a dry fine powder without lumps; else sieve it, "
                              "or grind it again"});
    } else {
      notes.push_back({NoteLevel::warning,
                       NoteCode::grind_first,
                       {material->name},
                       name + " comes as " + std::string(to_string(material->form)) +
                           " and must be ground to a fine powder and sieved first; as it is, it "
                           "neither sticks nor stays mixed"});
    }
  }
}

double mean_sgn(const Granules& granules) {
  double sum = 0;
  double mass = 0;
  for (const auto& [material, kg] : granules) {
    sum += *material->sgn * kg;
    mass += kg;
  }
  return sum / mass;
}

/// Pairs of granules that differ in size, by how much it matters.
struct Mismatches {
  std::vector<std::string> marginal{};
  std::vector<std::string> poor{};
};

void add_pair(const Material& a, const Material& b, double mean, Mismatches& mismatches) {
  const double percent = 100 * std::abs(*a.sgn - *b.sgn) / mean;
  if (percent <= good_match_percent) return;
  const Material& coarse = *a.sgn > *b.sgn ? a : b;
  const Material& fine = *a.sgn > *b.sgn ? b : a;
  auto& pairs = percent > poor_match_percent ? mismatches.poor : mismatches.marginal;
  pairs.push_back(in_quotes(coarse.name) + " (SGN " + whole(*coarse.sgn) + ") and " +
                  in_quotes(fine.name) + " (SGN " + whole(*fine.sgn) + ") by " + whole(percent) +
                  " %");
}

void add_mismatches(NoteLevel level, const std::vector<std::string>& pairs, std::string_view advice,
                    std::vector<Note>& notes) {
  if (pairs.empty()) return;
  std::string text = "granules differ from the blend's mean size: ";
  for (const auto& pair : pairs) text += (&pair == &pairs.front() ? "" : ", ") + pair;
  notes.push_back({level,
                   NoteCode::sizes_differ,
                   {},
                   text + "; " + std::string(advice),
                   std::string(size_source)});
}

void add_sizes(const Scenario& scenario, const std::vector<Weighing>& load,
               std::vector<Note>& notes) {
  Granules granules;
  std::vector<std::string> unknown;
  for (const auto& weighing : load) {
    const Material* material = find(scenario, weighing);
    if (material == nullptr || material->form != Form::granule) continue;
    if (material->sgn) {
      granules.emplace_back(material, static_cast<double>(weighing.mass_mg) / mg_per_kg);
    } else {
      unknown.push_back(material->name);
    }
    if (material->ui && (*material->ui < least_uniformity || *material->ui > most_uniformity)) {
      notes.push_back({NoteLevel::caution,
                       NoteCode::uniformity_unusual,
                       {material->name},
                       in_quotes(material->name) + " has a uniformity index of " +
                           number_text(*material->ui) + "; 40 to 60 is usual for blending",
                       std::string(uniformity_source)});
    }
  }
  if (!unknown.empty() && granules.size() + unknown.size() > 1) {
    notes.push_back({NoteLevel::caution, NoteCode::size_unknown, unknown,
                     "the size of " + listed(unknown) +
                         " is not stated: compare the granules side by side on a sieve first"});
  }
  if (granules.size() < 2) return;
  const double mean = mean_sgn(granules);
  if (mean <= 0) return;
  Mismatches mismatches;
  for (std::size_t i = 0; i < granules.size(); ++i) {
    for (std::size_t j = i + 1; j < granules.size(); ++j) {
      add_pair(*granules[i].first, *granules[j].first, mean, mismatches);
    }
  }
  add_mismatches(NoteLevel::warning, mismatches.poor,
                 "they segregate: screen them, or take another grade", notes);
  add_mismatches(NoteLevel::caution, mismatches.marginal,
                 "handle gently, fill by small heights, spread without shaking", notes);
}

/// Two families of a load, and what the compatibility table or the scenario says of them.
struct FamiliesOfLoad {
  std::string a{};
  std::string b{};
  std::string reason{};
  std::string source{};
};

std::string pair_text(const FamiliesOfLoad& pair) { return pair.a + " with " + pair.b; }

/// `a with b, c with d: why; e with f: why`: a reason that several pairs share is said once.
std::string reasons_text(const std::vector<FamiliesOfLoad>& pairs) {
  std::vector<std::pair<std::string, std::string>> by_reason;
  for (const auto& pair : pairs) {
    const auto known =
        std::ranges::find(by_reason, pair.reason, &std::pair<std::string, std::string>::first);
    if (known == by_reason.end()) {
      by_reason.emplace_back(pair.reason, pair_text(pair));
    } else {
      known->second += ", " + pair_text(pair);
    }
  }
  std::string text;
  for (const auto& [reason, names] : by_reason) {
    text += (text.empty() ? "" : "; ") + names + ": " + reason;
  }
  return text;
}

std::vector<std::string> names_of(const std::vector<FamiliesOfLoad>& pairs) {
  std::vector<std::string> names;
  for (const auto& pair : pairs) names.insert(names.end(), {pair.a, pair.b});
  return names;
}

std::vector<FamiliesOfLoad> limited_in(const Scenario& scenario,
                                       const std::set<std::string>& families) {
  std::vector<FamiliesOfLoad> pairs;
  for (const auto& pair : scenario.limited_pairs()) {
    if (!families.contains(pair.family_a) || !families.contains(pair.family_b)) continue;
    pairs.push_back({pair.family_a, pair.family_b, pair.reason, pair.source});
  }
  return pairs;
}

/// The sources of the reasons, each once; rules that a scenario lists have none.
std::string sources_of(const std::vector<FamiliesOfLoad>& pairs) {
  std::set<std::string> said;
  std::string text;
  for (const auto& pair : pairs) {
    if (pair.source.empty() || !said.insert(pair.source).second) continue;
    text += (text.empty() ? "" : "; ") + pair.source;
  }
  return text;
}

bool contains(const std::vector<FamiliesOfLoad>& pairs, const FamiliesOfLoad& pair) {
  return std::ranges::any_of(
      pairs, [&](const FamiliesOfLoad& other) { return pair_text(other) == pair_text(pair); });
}

/// Pairs of the load whose rule the scenario lifts: a load holds no pair that it keeps apart.
std::vector<FamiliesOfLoad> lifted_in(const Scenario& scenario,
                                      const std::set<std::string>& families) {
  std::vector<FamiliesOfLoad> pairs;
  for (const auto& rule : scenario.lifted_rules()) {
    if (!families.contains(rule.family_a) || !families.contains(rule.family_b)) continue;
    pairs.push_back({rule.family_a, rule.family_b, rule.reason, rule.source});
  }
  return pairs;
}

/// Pairs of the load that the built-in table calls limited, and the scenario does not.
std::vector<FamiliesOfLoad> eased_in(const std::vector<FamiliesOfLoad>& limited,
                                     const std::set<std::string>& families) {
  std::vector<FamiliesOfLoad> pairs;
  for (const auto& rule : built_in_compatibility()) {
    if (rule.level != Compatibility::limited) continue;
    if (!families.contains(rule.family_a) || !families.contains(rule.family_b)) continue;
    FamiliesOfLoad pair{rule.family_a, rule.family_b, rule.reason, rule.source};
    if (!contains(limited, pair)) pairs.push_back(std::move(pair));
  }
  return pairs;
}

void add_lifted(const std::vector<FamiliesOfLoad>& apart, const std::vector<FamiliesOfLoad>& eased,
                std::vector<Note>& notes) {
  if (!apart.empty()) {
    notes.push_back({NoteLevel::warning, NoteCode::rule_lifted, names_of(apart),
                     "this load holds what the compatibility table keeps apart, because the "
                     "scenario lifts the rule; the hazard stays: " +
                         reasons_text(apart),
                     sources_of(apart)});
  }
  if (!eased.empty()) {
    notes.push_back({NoteLevel::caution, NoteCode::rule_lifted, names_of(eased),
                     "the scenario calls compatible what the table says to mix and spread on one "
                     "day: " +
                         reasons_text(eased),
                     sources_of(eased)});
  }
}

/// What may not wait: a load whose parts harm each other is mixed and spread on one day.
void add_keeping(const Scenario& scenario, const std::set<std::string>& families,
                 std::vector<Note>& notes) {
  auto kept_short = limited_in(scenario, families);
  const auto apart = lifted_in(scenario, families);
  add_lifted(apart, eased_in(kept_short, families), notes);
  for (const auto& pair : apart) {
    if (!contains(kept_short, pair)) kept_short.push_back(pair);
  }
  if (!kept_short.empty()) {
    notes.push_back(
        {NoteLevel::caution, NoteCode::must_not_be_kept, names_of(kept_short),
         "must not be kept, mix and spread on the same day: " + reasons_text(kept_short),
         sources_of(kept_short)});
    return;
  }
  notes.push_back({NoteLevel::info,
                   NoteCode::keep_dry,
                   {},
                   "keep the mix sealed and dry and spread it within about four weeks (common "
                   "practice); a jar test with the real materials decides"});
}

void add_humidity(const std::vector<std::string>& families, std::vector<Note>& notes) {
  constexpr double humid = 60;
  const auto advice = critical_humidity(families);
  if (!advice) return;
  const std::string lower = advice->is_pair ? "a mixture of more salts may draw water still earlier"
                                            : "mixtures draw water earlier than the salt by itself";
  notes.push_back({advice->percent < humid ? NoteLevel::caution : NoteLevel::info,
                   NoteCode::critical_humidity,
                   {},
                   "draws water from air above about " + number_text(advice->percent) +
                       " % relative humidity at 30 C (" + advice->of + "); " + lower,
                   advice->source});
}

/// Lifted rules first, then warnings, cautions and the rest.
void sort_by_weight(std::vector<Note>& notes) {
  std::ranges::stable_sort(notes, {}, [](const Note& note) {
    return std::pair(note.code != NoteCode::rule_lifted, -static_cast<int>(note.level));
  });
}

}  // namespace

std::vector<Note> stop_conditions(const Scenario& scenario, const std::vector<Weighing>& load) {
  std::vector<Note> notes;
  std::vector<std::string> families;
  std::vector<const Material*> used;
  for (const auto& weighing : load) {
    const Material* material = find(scenario, weighing);
    if (material == nullptr) continue;
    families.push_back(material->family);
    used.push_back(material);
  }
  add_grinding(scenario, load, notes);
  add_sizes(scenario, load, notes);
  add_keeping(scenario, std::set<std::string>(families.begin(), families.end()), notes);
  add_silent_cautions(scenario, used, notes);
  add_humidity(families, notes);
  sort_by_weight(notes);
  return notes;
}

void add_warnings(const std::vector<Note>& notes, std::vector<Note>& conditions) {
  constexpr std::array codes{NoteCode::rate_above_usual,   NoteCode::supply_over_asked,
                             NoteCode::coating_over_limit, NoteCode::no_binder_weighed,
                             NoteCode::rounding_shift,     NoteCode::binder_reacts,
                             NoteCode::nature_stated,      NoteCode::binder_stated_inorganic};
  const auto belongs = [&](const Note& note) {
    return note.level == NoteLevel::warning && std::ranges::find(codes, note.code) != codes.end();
  };
  std::ranges::copy_if(notes, std::back_inserter(conditions), belongs);
  sort_by_weight(conditions);
}

}  // namespace leastwise::trial
