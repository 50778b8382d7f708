#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <cstdint>

#include "chemistry/nutrients/name_position.hpp"

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

constexpr std::array<std::string_view, 9> micronutrient_names = {"B",  "Cu", "Fe", "Mn", "Mo",
                                                                 "Zn", "Co", "Ni", "Se"};

/// The first seven letters of a name and its length in one word. No two known names have the same.
constexpr std::uint64_t key_of(std::string_view name) {
  std::uint64_t key = std::min<std::size_t>(name.size(), 255);
  for (std::size_t k = 0; k < 7; ++k)
    key = key << 8U | (k < name.size() ? static_cast<unsigned char>(name[k]) : 0U);
  return key;
}

constexpr auto keys = [] {
  std::array<std::uint64_t, names.size()> list{};
  for (std::size_t k = 0; k < names.size(); ++k) list[k] = key_of(names[k]);
  return list;
}();

}  // namespace

std::size_t position_of_name(std::string_view name) {
  const std::uint64_t key = key_of(name);
  for (std::size_t k = 0; k < keys.size(); ++k)
    if (keys[k] == key) return names[k] == name ? k : names.size();
  return names.size();
}

NameKind kind_of(std::string_view name) {
  const auto position = position_of_name(name);
  if (position < element_count) return NameKind::element;
  if (position < element_count + oxide_count) return NameKind::oxide;
  return position < names.size() ? NameKind::form : NameKind::property;
}

std::optional<std::string_view> parent_of_form(std::string_view form) {
  if (kind_of(form) != NameKind::form) return {};
  const std::string_view parent = form.substr(0, form.find('-'));
  return names[position_of_name(parent)];
}

std::optional<std::string_view> element_of(std::string_view name) {
  const auto position = position_of_name(name);
  if (position < element_count) return names[position];
  if (position < element_count + oxide_count) return elements_of_oxides[position - element_count];
  return {};
}

bool is_micronutrient(std::string_view name) {
  return std::ranges::find(micronutrient_names, name) != micronutrient_names.end();
}

std::vector<std::string_view> parts_of_sum(std::string_view name) {
  std::vector<std::string_view> parts;
  for (bool more = true; more;) {
    const auto plus = name.find('+');
    more = plus != std::string_view::npos;
    std::string_view part = name.substr(0, plus);
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    parts.push_back(part);
    if (more) name.remove_prefix(plus + 1);
  }
  return parts;
}

bool is_percentage(std::string_view name) {
  return !name.ends_with("-index") && name.find("-per-") == std::string_view::npos;
}

std::span<const std::string_view> known_names() { return names; }

}  // namespace leastwise
