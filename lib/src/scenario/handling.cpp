#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/critical_humidity.hpp"
#include "scenario/builder.hpp"
#include "scenario/material_fields.hpp"

namespace leastwise {
namespace {

constexpr Range humidity_range{0, 100, false, "percent of relative humidity"};
constexpr const char* size_path = "blend.sgn";
constexpr const char* humidity_path = "blend.dry_up_to_humidity_percent";
constexpr std::size_t longest_list = 8;

}  // namespace

/// Leaves out granules whose size lies outside of the stated window, so that no two in a blend
/// differ by more than it is wide.
void ScenarioBuilder::resolve_sizes() {
  if (!draft_.sgn ||
      !checks_.limits(size_path, "the size guide number of the granules", *draft_.sgn, sgn_range))
    return;
  std::vector<std::string> unknown;
  std::vector<std::string> outside;
  for (Material& material : scenario_.materials_) {
    if (material.form_used() != Form::granule || material.left_out) continue;
    if (!material.sgn) {
      unknown.push_back(material.name);
    } else if (*material.sgn < draft_.sgn->min || *material.sgn > draft_.sgn->max) {
      leave_out(material);
      outside.push_back(material.name);
    }
  }
  if (!unknown.empty())
    diagnostics_.error(codes::no_figure, size_path,
                       "a limit on the size of granules needs the sgn of every granule, and none "
                       "is stated for " +
                           listed(unknown, longest_list) + "; state sgn, or take it out with use");
  if (!outside.empty())
    add_note(NoteLevel::info, NoteCode::left_out_by_size, outside,
             "left out, for their size lies outside of what sgn under blend lets in: " +
                 listed(outside, longest_list));
}

/// Leaves out what draws water by itself below the stated humidity.
void ScenarioBuilder::resolve_dryness() {
  if (!draft_.dry_up_to_humidity_percent ||
      !checks_.number(humidity_path, "the humidity up to which the blend stays dry",
                      *draft_.dry_up_to_humidity_percent, humidity_range))
    return;
  std::vector<std::string> wet;
  std::vector<std::string> unknown;
  for (Material& material : scenario_.materials_) {
    if (!material.can_enter() || material.left_out) continue;
    const auto own = critical_humidity({material.family});
    if (!own) {
      unknown.push_back(material.name);
    } else if (own->percent < *draft_.dry_up_to_humidity_percent) {
      leave_out(material);
      wet.push_back(material.name);
    }
  }
  if (!wet.empty())
    add_note(NoteLevel::info, NoteCode::left_out_by_humidity, wet,
             "left out, for they draw water by themselves at the humidity up to which the blend is "
             "to stay dry: " +
                 listed(wet, longest_list));
  if (!unknown.empty())
    add_note(NoteLevel::caution, NoteCode::humidity_unknown, unknown,
             "dry_up_to_humidity_percent says nothing of " + listed(unknown, longest_list) +
                 ": no table of critical relative humidity has them, alone or in a pair");
}

/// Keeps apart the families that draw water together below the stated humidity.
void ScenarioBuilder::keep_dry_pairs_apart() {
  if (!draft_.dry_up_to_humidity_percent) return;
  std::vector<std::string> families;
  for (const Material& material : scenario_.materials_)
    if (material.can_enter() && !material.left_out) families.push_back(material.family);
  std::ranges::sort(families);
  families.erase(std::unique(families.begin(), families.end()), families.end());
  std::vector<std::string> unknown;
  for (std::size_t a = 0; a < families.size(); ++a)
    for (std::size_t b = a + 1; b < families.size(); ++b)
      keep_dry_pair_apart(families[a], families[b], unknown);
  if (!unknown.empty())
    add_note(NoteLevel::caution, NoteCode::humidity_unknown, {},
             "dry_up_to_humidity_percent lets in pairs whose humidity no table has: " +
                 listed(unknown, longest_list));
}

void ScenarioBuilder::keep_dry_pair_apart(const std::string& a, const std::string& b,
                                          std::vector<std::string>& unknown) {
  const auto is_pair = [&](const Exclusion& pair) {
    return pair.family_a == a && pair.family_b == b;
  };
  if (std::ranges::any_of(scenario_.exclusions_, is_pair)) return;
  const auto of_a = critical_humidity({a});
  const auto of_b = critical_humidity({b});
  if (!of_a || !of_b || of_a->of == of_b->of) return;  // not in the tables, or of one salt
  const auto together = critical_humidity({a, b});
  if (!together->is_pair) {
    unknown.push_back(a + " with " + b);
    return;
  }
  if (together->percent >= *draft_.dry_up_to_humidity_percent) return;
  std::erase_if(scenario_.limited_pairs_, is_pair);
  scenario_.exclusions_.push_back(
      {a, b, Compatibility::limited,
       "the pair draws water from " + rounded_text(together->percent) +
           " % relative humidity at 30 C, and the blend is to stay dry up to " +
           number_text(*draft_.dry_up_to_humidity_percent) + " %",
       humidity_path, together->source, false, "a lower dry_up_to_humidity_percent under blend"});
}

}  // namespace leastwise
