#include "chemistry/hazard/clashes.hpp"

#include <array>

namespace leastwise {
namespace {

struct ClashRule {
  HazardClass first = HazardClass::oxidizer;
  HazardClass also_first = HazardClass::oxidizer;  ///< a second class that `first` must show
  HazardClass second = HazardClass::fuel;
  bool burns = false;
  std::string_view danger{};
  std::string_view source{};
};

constexpr std::string_view fire = "mixed they can burn or explode";
constexpr std::string_view eu_nitrate =
    "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a); 29 CFR 1910.109(i)(5) (from memory)";

/// Worst first.
constexpr std::array<ClashRule, 8> clash_rules{{
    {HazardClass::oxidizer, HazardClass::oxidizer, HazardClass::fuel, true, fire, eu_nitrate},
    {HazardClass::oxidizer, HazardClass::oxidizer, HazardClass::reducer, true, fire,
     "UN Model Regulations, segregation of Division 5.1 (from memory)"},
    {HazardClass::oxidizer, HazardClass::ammonium, HazardClass::copper, false,
     "copper speeds up the decomposition of ammonium nitrate, which can explode",
     "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)"},
    {HazardClass::oxidizer, HazardClass::oxidizer, HazardClass::urea, false,
     "urea and nitrates draw water until they are a liquid that can decompose",
     "critical relative humidity at 30 C (Adams and Merz 1929)"},
    {HazardClass::oxidizer, HazardClass::oxidizer, HazardClass::acid, false,
     "strong acids drive poisonous fumes out of nitrates", "chemistry, from memory"},
    {HazardClass::oxidizer, HazardClass::ammonium, HazardClass::alkaline, false,
     "alkaline matter drives ammonia out",
     "Principles of Agronomy, precautions when preparing "
     "fertilizer mixtures"},
    {HazardClass::ammonium, HazardClass::ammonium, HazardClass::alkaline, false,
     "alkaline matter drives ammonia out",
     "Principles of Agronomy, precautions when preparing "
     "fertilizer mixtures"},
    {HazardClass::reducer, HazardClass::reducer, HazardClass::acid, false,
     "acids drive poisonous gas out of sulfides and sulfites", "chemistry, from memory"},
}};

bool shows(const Nature& nature, const ClashRule& rule) {
  return nature.has(rule.first) && nature.has(rule.also_first);
}

}  // namespace

std::optional<Clash> clash_of(const Nature& a, const Nature& b) {
  for (const auto& rule : clash_rules) {
    if (shows(a, rule) && b.has(rule.second)) {
      return Clash{rule.first, rule.second, rule.burns, rule.danger, rule.source};
    }
    if (shows(b, rule) && a.has(rule.second)) {
      return Clash{rule.second, rule.first, rule.burns, rule.danger, rule.source};
    }
  }
  return std::nullopt;
}

bool is_of_families(const Clash& clash, std::string_view family_a, std::string_view family_b) {
  return family_has(family_a, clash.first) && family_has(family_b, clash.second);
}

std::string because(std::string_view quoted_name, const Nature& nature, HazardClass kind) {
  const Hazard* hazard = nature.find(kind);
  std::string text = std::string(quoted_name) + " is " + std::string(in_words(kind));
  if (hazard != nullptr) text += " because " + hazard->reason;
  return text;
}

}  // namespace leastwise
