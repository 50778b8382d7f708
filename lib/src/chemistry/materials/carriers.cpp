#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <array>

namespace leastwise {
namespace {

struct Dressing {
  std::string_view nutrient;
  double kg_per_ha;
};

/// What an ordinary crop gets in a season; common practice.
constexpr std::array<Dressing, 5> usual_dressings{
    {{"N", 100}, {"P2O5", 60}, {"K2O", 100}, {"S", 30}, {"MgO", 40}}};

/// Whether a usual dressing of one of its macronutrients brings no more than a usual rate of each
/// micronutrient it carries.
bool feeds_with_macronutrients(const Material& material,
                               const std::vector<std::string_view>& carried) {
  return std::ranges::any_of(usual_dressings, [&](const Dressing& dressing) {
    const double content = content_percent(material, dressing.nutrient);
    if (content <= 0) return false;
    const double kg_per_ha = dressing.kg_per_ha / content * 100;
    return std::ranges::all_of(carried, [&](std::string_view element) {
      return content_percent(material, element) / 100 * kg_per_ha <=
             find_micronutrient(element)->granular.to;
    });
  });
}

}  // namespace

std::vector<std::string_view> carried_micronutrients(const Material& material) {
  std::vector<std::string_view> carried;
  std::vector<std::string_view> traces;
  for (const auto& micronutrient : micronutrients()) {
    const double content = content_percent(material, micronutrient.element);
    if (content <= 0) continue;
    (content >= micronutrient.carried_from_percent ? carried : traces)
        .push_back(micronutrient.element);
  }
  if (material.micronutrient_granule) return carried.empty() ? traces : carried;
  if (feeds_with_macronutrients(material, carried)) return {};
  return carried;
}

}  // namespace leastwise
