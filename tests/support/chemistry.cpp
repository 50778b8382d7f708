#include "support/chemistry.hpp"

namespace leastwise::support {
namespace {

std::vector<Chemistry> bulk_granules() {
  return {
      {"urea", "urea", Form::granule, {{"N", 46}, {"N-urea", 46}, {"biuret", 0.9}}, "", 100, 410},
      {"ammonium-nitrate",
       "ammonium-nitrate",
       Form::granule,
       {{"N", 34}, {"N-ammonium", 17}, {"N-nitrate", 17}},
       "",
       100,
       380},
      {"calcium-ammonium-nitrate",
       "calcium-ammonium-nitrate",
       Form::granule,
       {{"N", 27}, {"N-ammonium", 13.5}, {"N-nitrate", 13.5}, {"Ca", 6}},
       "",
       100,
       330},
      {"ammonium-sulfate",
       "ammonium-sulfate",
       Form::granule,
       {{"N", 21}, {"N-ammonium", 21}, {"S", 24}},
       "",
       100,
       280},
      {"map",
       "monoammonium-phosphate",
       Form::granule,
       {{"N", 11}, {"N-ammonium", 11}, {"P2O5", 52}, {"P2O5-water", 46}, {"Cd", 0.003}},
       "",
       100,
       720},
      {"dap",
       "diammonium-phosphate",
       Form::granule,
       {{"N", 18}, {"N-ammonium", 18}, {"P2O5", 46}, {"P2O5-water", 42}, {"Cd", 0.002}},
       "",
       100,
       690},
      {"tsp",
       "triple-superphosphate",
       Form::granule,
       {{"P2O5", 46}, {"P2O5-water", 40}, {"Ca", 14}, {"Cd", 0.004}},
       "",
       100,
       560},
      {"ssp",
       "single-superphosphate",
       Form::granule,
       {{"P2O5", 18}, {"P2O5-water", 15.5}, {"S", 12}, {"Ca", 20}},
       "",
       100,
       270},
      {"mop", "potassium-chloride", Form::granule, {{"K2O", 60}, {"Cl", 47}}, "", 100, 390},
      {"sop",
       "potassium-sulfate",
       Form::granule,
       {{"K2O", 50}, {"S", 18}, {"Cl", 1}},
       "",
       100,
       760},
      {"sop-magnesia",
       "potassium-magnesium-sulfate",
       Form::granule,
       {{"K2O", 22}, {"S", 22}, {"Mg", 11}, {"Cl", 1.5}},
       "",
       100,
       480},
      {"potassium-nitrate",
       "potassium-nitrate",
       Form::granule,
       {{"N", 13}, {"N-nitrate", 13}, {"K2O", 46}},
       "",
       100,
       1050},
      {"calcium-nitrate",
       "calcium-nitrate",
       Form::granule,
       {{"N", 15.5}, {"N-ammonium", 1.1}, {"N-nitrate", 14.4}, {"Ca", 19}},
       "",
       100,
       420},
      {"kieserite", "magnesium-sulfate", Form::granule, {{"Mg", 15.5}, {"S", 21}}, "", 100, 300},
      {"polyhalite",
       "potassium-magnesium-sulfate",
       Form::granule,
       {{"K2O", 14}, {"S", 19}, {"Ca", 12}, {"Mg", 3.6}, {"Cl", 2}},
       "",
       100,
       240},
      {"sulfur-bentonite", "elemental-sulfur", Form::granule, {{"S", 90}}, "", 100, 380},
      {"gypsum", "gypsum", Form::granule, {{"S", 18}, {"Ca", 23}}, "", 100, 90},
      {"limestone", "limestone", Form::granule, {{"Ca", 32}}, "", 100, 60},
      {"dolomite", "limestone", Form::granule, {{"Ca", 21}, {"MgO", 20}}, "", 100, 80},
      {"slow-urea",
       "coated-urea",
       Form::granule,
       {{"N", 43}, {"N-urea", 43}, {"N-slow", 30}},
       "",
       100,
       820},
  };
}

std::vector<Chemistry> micronutrient_granules() {
  return {
      {"zinc-granule", "zinc-sulfate", Form::granule, {{"Zn", 20}, {"S", 10}}, "", 100, 1500, true},
      {"boron-granule", "borates", Form::granule, {{"B", 14.5}}, "", 100, 1300, true},
      {"manganese-granule",
       "metal-sulfates",
       Form::granule,
       {{"Mn", 25}, {"S", 14}},
       "",
       100,
       1200,
       true},
      {"copper-granule",
       "copper-compounds",
       Form::granule,
       {{"Cu", 22}, {"S", 11}},
       "",
       100,
       3200,
       true},
  };
}

std::vector<Chemistry> powders() {
  return {
      {"zinc-oxide", "zinc-oxide", Form::powder, {}, "ZnO", 97, 3100},
      {"zinc-sulfate-powder", "zinc-sulfate", Form::powder, {}, "ZnSO4.H2O", 98, 1150},
      {"boric-acid", "borates", Form::powder, {}, "H3BO3", 99, 1400},
      {"sodium-borate", "borates", Form::powder, {{"B", 20.5}, {"Na", 11}}, "", 100, 1700},
      {"manganese-oxide", "manganese-oxide", Form::powder, {{"Mn", 60}}, "", 100, 1250},
      {"copper-sulfate",
       "copper-compounds",
       Form::crystal,
       {},
       "CuSO4.5H2O",
       99,
       2900,
       false,
       true},
      {"manganese-sulfate", "metal-sulfates", Form::powder, {}, "MnSO4.H2O", 97, 980},
  };
}

std::vector<Chemistry> kept_out() {
  return {
      {"mop-fines", "potassium-chloride", Form::fines, {{"K2O", 60}, {"Cl", 47}}, "", 100, 210},
      {"epsom-salt", "magnesium-sulfate", Form::crystal, {}, "MgSO4.7H2O", 98, 260},
      {"ammonium-sulfate-crystal",
       "ammonium-sulfate",
       Form::crystal,
       {{"N", 21}, {"N-ammonium", 21}, {"S", 24}},
       "",
       100,
       160},
  };
}

}  // namespace

std::span<const Chemistry> chemistries() {
  static const std::vector<Chemistry> all = [] {
    std::vector<Chemistry> list = bulk_granules();
    for (const auto& part : {micronutrient_granules(), powders(), kept_out()})
      list.insert(list.end(), part.begin(), part.end());
    return list;
  }();
  return all;
}

}  // namespace leastwise::support
