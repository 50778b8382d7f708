#include <leastwise/compatibility.hpp>

#include <algorithm>

#include "scenario/builder.hpp"
#include "scenario/codes.hpp"
#include "scenario/families.hpp"
#include "scenario/wording.hpp"

namespace leastwise {
namespace {

constexpr std::string_view hazard =
    "oil or other organic matter on an oxidizer can burn or explode, and local codes forbid it; ";

bool is_organic(const BinderDraft& binder) {
  const BinderNature nature = nature_of_binder(binder.material);
  if (nature == BinderNature::organic) return true;
  return binder.organic.value_or(nature != BinderNature::inorganic);
}

}  // namespace

/// Families are what is kept apart: an oxidizer and a fuel in one family would never be.
void ScenarioBuilder::check_families_for_fire() {
  for (const auto& oxidizer : scenario_.materials_) {
    if (!oxidizer.can_enter() || !is_oxidizer(oxidizer)) continue;
    for (const auto& fuel : scenario_.materials_) {
      if (&fuel == &oxidizer || fuel.family != oxidizer.family) continue;
      if (!fuel.can_enter() || !is_fuel(fuel)) continue;
      const auto defined = drafts_.find(fuel.name);
      findings_.error(
          codes::oxidizer_with_fuel, defined == drafts_.end() ? "use" : path_of(*defined->second),
          in_quotes(oxidizer.name) + " is an oxidizer and " + in_quotes(fuel.name) +
              " burns: mixed they can burn or explode, and in one family, " +
              in_quotes(fuel.family) + ", nothing keeps them apart; give each a family of its own");
      return;
    }
  }
}

void ScenarioBuilder::check_fire() {
  check_families_for_fire();
  const bool named = draft_.binder && !draft_.binder->material.empty();
  if (named && draft_.binder->organic == false &&
      nature_of_binder(draft_.binder->material) == BinderNature::organic) {
    findings_.error(codes::organic_binder_denied, "blend.binder.organic",
                    in_quotes(draft_.binder->material) +
                        " is organic, so organic: false is not true of it; take the line out");
  }
  std::vector<std::string> oxidizers;
  for (const auto& material : scenario_.materials_) {
    if (material.can_enter() && is_oxidizer(material)) oxidizers.push_back(material.name);
  }
  if (oxidizers.empty() || findings_.touched("blend.binder")) return;
  const std::string fix = std::string(hazard) + "leave " + listed(oxidizers, 3) +
                          " out with use, or name an inorganic binder";
  if (named && is_organic(*draft_.binder)) {
    findings_.error(codes::oxidizer_with_organic_binder, "blend.binder.material",
                    "the binder " + in_quotes(draft_.binder->material) +
                        (nature_of_binder(draft_.binder->material) == BinderNature::unknown
                             ? " is not known to be inorganic"
                             : " is organic") +
                        " and must not touch " + listed(oxidizers, 3) + ": " + fix);
    return;
  }
  const bool stated_inorganic = draft_.binder && draft_.binder->organic == false;
  const bool any_powder =
      std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                  [](const Material& m) { return m.form_used() == Form::powder; });
  if (named || stated_inorganic || !any_powder) return;
  const auto defined = drafts_.find(oxidizers.front());
  findings_.error(codes::oxidizer_with_organic_binder,
                  draft_.binder              ? "blend.binder"
                  : defined == drafts_.end() ? "use"
                                             : path_of(*defined->second),
                  "powders need a binder and none is named; it may be an oil, which must not "
                  "touch " +
                      listed(oxidizers, 3) + ": " + fix);
}

}  // namespace leastwise
