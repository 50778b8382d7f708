#include "chemistry/hazard/compound.hpp"

#include <cmath>
#include <utility>

namespace leastwise {
namespace {

/// The oxidation numbers in which an element occurs in fertilizers. Source: inorganic chemistry,
/// from memory. Beyond the highest stand the peroxides, chlorates, permanganates and chromates.
struct States {
  std::string_view symbol{};
  double lowest = 0;
  double highest = 0;
};

constexpr std::array<States, 46> oxidation_states{{
    {"H", 1, 1},  {"Li", 1, 1}, {"Na", 1, 1}, {"K", 1, 1},  {"Rb", 1, 1}, {"Cs", 1, 1},
    {"Ag", 1, 1}, {"Be", 2, 2}, {"Mg", 2, 2}, {"Ca", 2, 2}, {"Sr", 2, 2}, {"Ba", 2, 2},
    {"Zn", 2, 2}, {"Cd", 2, 2}, {"Hg", 1, 2}, {"Pb", 2, 2}, {"Sn", 2, 4}, {"B", 3, 3},
    {"Al", 3, 3}, {"La", 3, 3}, {"Y", 3, 3},  {"Si", 4, 4}, {"Ti", 4, 4}, {"Zr", 4, 4},
    {"P", 5, 5},  {"As", 3, 5}, {"Sb", 3, 5}, {"Bi", 3, 3}, {"S", 6, 6},  {"Se", 4, 6},
    {"Te", 4, 6}, {"Mo", 6, 6}, {"W", 6, 6},  {"V", 3, 5},  {"Nb", 5, 5}, {"U", 4, 6},
    {"Cu", 1, 2}, {"Fe", 2, 3}, {"Mn", 2, 4}, {"Co", 2, 3}, {"Ni", 2, 2}, {"Cr", 2, 3},
    {"Ce", 3, 4}, {"Ga", 3, 3}, {"In", 3, 3}, {"Tl", 1, 3},
}};
constexpr States unlisted{"", 1, 4};
constexpr std::array<std::string_view, 4> halogens{"F", "Cl", "Br", "I"};
constexpr std::array<std::string_view, 5> alkali_metals{"Li", "Na", "K", "Rb", "Cs"};
constexpr std::array<std::string_view, 4> earth_metals{"Mg", "Ca", "Sr", "Ba"};
constexpr std::array<std::string_view, 11> non_metals{"H", "C",  "N",  "O",  "F", "P",
                                                      "S", "Cl", "Se", "Br", "I"};

template <std::size_t Size>
bool is_among(const std::array<std::string_view, Size>& list, std::string_view symbol) {
  return std::find(list.begin(), list.end(), symbol) != list.end();
}

const States& states_of(std::string_view symbol) {
  const auto* const found = std::find_if(oxidation_states.begin(), oxidation_states.end(),
                                         [&](const States& s) { return s.symbol == symbol; });
  return found == oxidation_states.end() ? unlisted : *found;
}

}  // namespace

bool is_halogen(std::string_view symbol) { return is_among(halogens, symbol); }
bool is_alkali_metal(std::string_view symbol) { return is_among(alkali_metals, symbol); }
bool is_earth_metal(std::string_view symbol) { return is_among(earth_metals, symbol); }
bool is_metal(std::string_view symbol) { return !is_among(non_metals, symbol); }
double highest_state(std::string_view symbol) { return states_of(symbol).highest; }

Compound::Compound(Composition composition) : composition_(std::move(composition)) {
  for (const auto& [symbol, moles] : composition_.atoms) {
    if (symbol == "O") {
      taken_ += 2 * moles;
    } else if (is_halogen(symbol)) {
      taken_ += moles;
    } else if (symbol != "C" && symbol != "N") {
      given_least_ += moles * states_of(symbol).lowest;
      given_most_ += moles * states_of(symbol).highest;
    }
  }
  const double bound =
      reduced_nitrogen * (composition_.ammonium_nitrogen + composition_.urea_nitrogen) +
      oxidized_nitrogen * composition_.nitrate_nitrogen;
  given_least_ += bound;
  given_most_ += bound;
}

double Compound::moles(std::string_view symbol) const {
  const auto found = composition_.atoms.find(symbol);
  return found == composition_.atoms.end() ? 0 : found->second;
}

double Compound::open_nitrogen() const {
  return moles("N") - composition_.ammonium_nitrogen - composition_.nitrate_nitrogen -
         composition_.urea_nitrogen;
}

double Compound::oxygen_balance_percent() const {
  constexpr double oxygen_mass = 15.999;  // IUPAC, grams per mole
  const double needed = 2 * moles("C") + moles("H") / 2;
  return 100 * oxygen_mass * (moles("O") - needed) / mass_of(composition_);
}

bool is_water(const Composition& composition) {
  const auto hydrogen = composition.atoms.find("H");
  const auto oxygen = composition.atoms.find("O");
  constexpr double exact = 1e-9;
  return composition.atoms.size() == 2 && hydrogen != composition.atoms.end() &&
         oxygen != composition.atoms.end() &&
         std::abs(hydrogen->second - 2 * oxygen->second) < exact;
}

}  // namespace leastwise
