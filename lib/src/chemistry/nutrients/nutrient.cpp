#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>

namespace leastwise {
namespace {

constexpr std::array<std::string_view, 31> names = {
    "N",    "P",      "K",          "S",         "Ca",     "Mg",         "Na",          "Cl",
    "Si",   "B",      "Cu",         "Fe",        "Mn",     "Mo",         "Zn",          "Co",
    "Ni",   "Se",     "P2O5",       "K2O",       "SO3",    "CaO",        "MgO",         "Na2O",
    "SiO2", "N-urea", "N-ammonium", "N-nitrate", "N-slow", "P2O5-water", "P2O5-citrate"};
constexpr std::size_t element_count = 18;
constexpr std::size_t oxide_count = 7;

constexpr std::array<std::string_view, oxide_count> elements_of_oxides = {"P",  "K",  "S", "Ca",
                                                                          "Mg", "Na", "Si"};

constexpr std::array<ToxicElement, 6> toxic{{{"B", "boron"},
                                             {"Cu", "copper"},
                                             {"Se", "selenium"},
                                             {"Mo", "molybdenum"},
                                             {"Co", "cobalt"},
                                             {"Ni", "nickel"}}};

constexpr std::array<std::string_view, 9> micronutrient_names = {"B",  "Cu", "Fe", "Mn", "Mo",
                                                                 "Zn", "Co", "Ni", "Se"};

}  // namespace

NameKind kind_of(std::string_view name) {
  const auto found = std::ranges::find(names, name);
  const auto position = static_cast<std::size_t>(found - names.begin());
  if (position < element_count) return NameKind::element;
  if (position < element_count + oxide_count) return NameKind::oxide;
  return found != names.end() ? NameKind::form : NameKind::property;
}

std::optional<std::string_view> parent_of_form(std::string_view form) {
  if (kind_of(form) != NameKind::form) return {};
  const std::string_view parent = form.substr(0, form.find('-'));
  return *std::ranges::find(names, parent);
}

std::optional<std::string_view> element_of(std::string_view name) {
  const auto found = std::ranges::find(names, name);
  const auto position = static_cast<std::size_t>(found - names.begin());
  if (position < element_count) return *found;
  if (position < element_count + oxide_count) return elements_of_oxides[position - element_count];
  return {};
}

bool is_micronutrient(std::string_view name) {
  return std::ranges::find(micronutrient_names, name) != micronutrient_names.end();
}

std::span<const ToxicElement> toxic_elements() { return toxic; }

std::span<const std::string_view> known_names() { return names; }

}  // namespace leastwise
