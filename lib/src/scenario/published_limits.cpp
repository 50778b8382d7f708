#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/published_figures.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

/// What goods hold unless their analysis says otherwise.
struct Trace {
  std::string_view name{};
  std::string_view beside{};  ///< goods that hold it hold this too
  std::string_view words{};
};

constexpr std::string_view trace_source = "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)";
constexpr std::array<Trace, 2> traces{{
    {"Cd", "P2O5", "phosphates may hold up to 60 mg of it per kg of P2O5"},
    {"biuret", "N-urea", "goods with urea may hold up to 1.2 %"},
}};

bool states(const Material& material, std::string_view name) {
  return std::ranges::find(material.contains_percent, name, &Content::name) !=
         material.contains_percent.end();
}

bool is_limited_in(const std::vector<TargetDraft>& targets, std::string_view name) {
  return std::ranges::find(targets, name, &TargetDraft::nutrient) != targets.end();
}

}  // namespace

/// Gives each material that does not state a figure which a rule limits the published one.
void ScenarioBuilder::take_published_figures() {
  for (const std::string_view name : published_figure_names) {
    if (!is_limited_in(draft_.rates_kg_per_ha, name) && !is_limited_in(draft_.grade_percent, name))
      continue;
    for (Material& material : scenario_.materials_) {
      if (states(material, name)) continue;
      if (const auto figure = published_figure(material, name))
        material.contains_percent.push_back({std::string(name), *figure});
    }
  }
}

const Target* ScenarioBuilder::target_of(std::string_view name) const {
  for (const auto* targets : {&scenario_.rates_, &scenario_.grades_}) {
    const auto found = std::ranges::find(*targets, name, &Target::nutrient);
    if (found != targets->end()) return &*found;
  }
  return nullptr;
}

/// Whether nothing lets a carrier of micronutrients into a blend.
bool ScenarioBuilder::stays_unasked(const Material& material) const {
  const auto carried = carried_micronutrients(material);
  const auto asked = asked_elements();
  return !carried.empty() && !asks_for_share(material) &&
         std::ranges::none_of(carried, [&](auto element) { return asked.contains(element); });
}

/// A material without a figure would count as nothing, and the limit would be kept on paper only.
void ScenarioBuilder::check_published_figures() {
  for (const std::string_view name : published_figure_names) {
    const Target* target = target_of(name);
    if (target == nullptr) continue;
    if (diagnostics_.any_wrong([this](const std::string& p) { return hides_contents(p); })) return;
    std::vector<std::string> silent;
    for (const Material& material : scenario_.materials_)
      if (material.can_enter() && !material.left_out && !states(material, name) &&
          !stays_unasked(material))
        silent.push_back(material.name);
    if (silent.empty()) {
      if (name == salt_index_name)
        add_note(
            NoteLevel::info, NoteCode::published_figures, {std::string(name)},
            "the salt index compares salts; what seed and roots bear depends on crop, soil, water "
            "and distance");
      continue;
    }
    diagnostics_.error(codes::no_figure, target->path,
                       "a limit on " + in_quotes(name) +
                           " needs the figure of every material, and no table has one for " +
                           listed(silent, 20) + "; state " + std::string(name) +
                           " among what it contains, or take it out with use");
  }
}

/// Says which goods a maximum on a trace counts as free of it, though they rarely are.
void ScenarioBuilder::remark_on_traces() {
  for (const Trace& trace : traces) {
    const Target* target = target_of(trace.name);
    if (target == nullptr || !target->limits.has_max()) continue;
    std::vector<std::string> silent;
    for (const Material& material : scenario_.materials_)
      if (material.can_enter() && !material.left_out && !states(material, trace.name) &&
          content_percent(material, trace.beside) > 0)
        silent.push_back(material.name);
    if (silent.empty()) continue;
    const std::string names = listed(silent);
    silent.insert(silent.begin(), std::string(trace.name));
    add_note(NoteLevel::warning, NoteCode::trace_not_stated, std::move(silent),
             "the maximum of " + in_quotes(trace.name) + " counts nothing of it in " + names +
                 ", of which none is stated: " + std::string(trace.words) + " (" +
                 std::string(trace_source) + "); state what the analysis of the lot says",
             std::string(trace_source));
  }
}

}  // namespace leastwise
