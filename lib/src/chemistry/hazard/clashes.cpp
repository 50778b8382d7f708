#include "chemistry/hazard/clashes.hpp"

#include <array>
#include <utility>

namespace leastwise {
namespace {

constexpr std::string_view fire = "mixed they can burn or explode";
constexpr std::string_view eu_nitrate =
    "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a); 29 CFR 1910.109(i)(5) (from memory)";

/// Worst first.
constexpr std::array<Clash, 8> clash_rules{{
    {HazardClass::oxidizer, HazardClass::fuel, HazardClass::oxidizer, true, fire, eu_nitrate},
    {HazardClass::oxidizer, HazardClass::reducer, HazardClass::oxidizer, true, fire,
     "UN Model Regulations, segregation of Division 5.1 (from memory)"},
    {HazardClass::oxidizer, HazardClass::copper, HazardClass::ammonium, false,
     "copper speeds up the decomposition of ammonium nitrate, which can explode",
     "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)"},
    {HazardClass::oxidizer, HazardClass::urea, HazardClass::oxidizer, false,
     "urea and nitrates draw water until they are a liquid that can decompose",
     "critical relative humidity at 30 C (Adams and Merz 1929)"},
    {HazardClass::oxidizer, HazardClass::acid, HazardClass::oxidizer, false,
     "strong acids drive poisonous fumes out of nitrates", "chemistry, from memory"},
    {HazardClass::oxidizer, HazardClass::alkaline, HazardClass::ammonium, false,
     "alkaline matter drives ammonia out",
     "Principles of Agronomy, precautions when preparing "
     "fertilizer mixtures"},
    {HazardClass::ammonium, HazardClass::alkaline, HazardClass::ammonium, false,
     "alkaline matter drives ammonia out",
     "Principles of Agronomy, precautions when preparing "
     "fertilizer mixtures"},
    {HazardClass::reducer, HazardClass::acid, HazardClass::reducer, false,
     "acids drive poisonous gas out of sulfides and sulfites", "chemistry, from memory"},
}};

bool shows(const Nature& nature, const Clash& rule) {
  return nature.has(rule.first) && nature.has(rule.also_first);
}

/// Two materials of which neither is known are cautioned about, not kept apart.
bool is_doubtful(const Nature& a, const Nature& b, const Clash& rule) {
  return a.find(rule.first)->doubt && b.find(rule.second)->doubt;
}

}  // namespace

std::span<const Clash> clashes() { return clash_rules; }

std::optional<Clash> clash_of(const Nature& a, const Nature& b) {
  for (const auto& rule : clash_rules) {
    if (shows(a, rule) && b.has(rule.second) && !is_doubtful(a, b, rule)) {
      return rule;
    }
    if (shows(b, rule) && a.has(rule.second) && !is_doubtful(b, a, rule)) {
      Clash turned = rule;
      std::swap(turned.first, turned.second);
      return turned;
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
