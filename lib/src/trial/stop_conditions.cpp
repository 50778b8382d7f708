#include "trial/stop_conditions.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "scenario/wording.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

// Differences in size between two granules, relative to the mean of the blend. Source: manuals of
// bulk-blend quality, from memory.
constexpr double good_match_percent = 10;
constexpr double poor_match_percent = 20;
constexpr std::string_view size_source =
    "size guide numbers within 10 % of the mean match, over 20 % "
    "segregate (bulk-blend quality manuals, from memory)";
// Uniformity index. Source: bulk-blend manuals of the Canadian and the American industry bodies,
// from memory.
constexpr double least_uniformity = 40;
constexpr double most_uniformity = 60;

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
                       "check that " + name +
                           " is a dry fine powder without lumps; else sieve it, "
                           "or grind it again"});
    } else {
      notes.push_back({NoteLevel::warning,
                       NoteCode::grind_first,
                       {material->name},
                       "stop: " + name + " comes as " + std::string(to_string(material->form)) +
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
  std::string text = level == NoteLevel::warning ? "stop: granules" : "granules";
  text += " differ from the blend's mean size: ";
  for (const auto& pair : pairs) text += (&pair == &pairs.front() ? "" : ", ") + pair;
  notes.push_back({level,
                   NoteCode::sizes_differ,
                   {},
                   text + "; " + std::string(advice) + "; " + std::string(size_source)});
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
                           number_text(*material->ui) +
                           "; 40 to 60 is usual for blending (bulk-blend manuals, from memory)"});
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

void add_keeping(const Scenario& scenario, const std::vector<std::string>& families,
                 std::vector<Note>& notes) {
  const std::set<std::string> present(families.begin(), families.end());
  std::string limited;
  std::vector<std::string> pairs;
  for (const auto& pair : scenario.limited_pairs()) {
    if (!present.contains(pair.family_a) || !present.contains(pair.family_b)) continue;
    pairs.insert(pairs.end(), {pair.family_a, pair.family_b});
    limited += (limited.empty() ? "" : "; ") + pair.family_a + " with " + pair.family_b + ": " +
               pair.reason;
  }
  if (!limited.empty()) {
    notes.push_back({NoteLevel::caution, NoteCode::must_not_be_kept, pairs,
                     "must not be kept, mix and spread on the same day: " + limited});
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
                       " % relative humidity at 30 C (" + advice->of + "; " + advice->source +
                       "); " + lower});
}

}  // namespace

std::vector<Note> stop_conditions(const Scenario& scenario, const std::vector<Weighing>& load) {
  std::vector<Note> notes;
  std::vector<std::string> families;
  for (const auto& weighing : load) {
    const Material* material = find(scenario, weighing);
    if (material != nullptr) families.push_back(material->family);
  }
  add_grinding(scenario, load, notes);
  add_sizes(scenario, load, notes);
  add_keeping(scenario, families, notes);
  add_humidity(families, notes);
  std::stable_sort(notes.begin(), notes.end(),
                   [](const Note& a, const Note& b) { return a.level > b.level; });
  return notes;
}

}  // namespace leastwise::trial
