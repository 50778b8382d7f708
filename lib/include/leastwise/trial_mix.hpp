#pragma once
#include <leastwise/note.hpp>

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace leastwise {

/// One weighing into a stock mix.
struct MixWeighing {
  std::string material{};           ///< a material, the carrier, or the mix of the step before
  bool earlier_mix = false;         ///< the mix of the step before
  std::int64_t mass_mg = 0;         ///< a multiple of the balance's readability
  std::string balance{};            ///< its name
  std::int64_t readability_mg = 1;  ///< of that balance
};

/// One step of a dilution: weigh, mix until even.
struct MixStep {
  std::string batch_code{};              ///< on its sheet and in the batch list
  std::vector<MixWeighing> weighings{};  ///< in the order in which they go in
  std::int64_t mass_mg = 0;              ///< their sum
};

/// How much of a material is in a stock mix.
struct MixPart {
  std::string material{};       ///< its name
  double fraction = 0;          ///< of the mix, by mass, as weighed
  bool carrier = false;         ///< thins the others out
  std::int64_t weighed_mg = 0;  ///< into all steps together
  std::int64_t used_mg = 0;     ///< of that, what gets into loads; the rest is left over
};

/// Powders that are too little for the balance, thinned out until they can be weighed.
///
/// Nothing is weighed below 50 digits of a balance, so that half a digit is at most 1 %, and no
/// step is thinner than one part in ten (common practice: more cannot be mixed evenly at once).
struct StockMix {
  std::string code{};                      ///< `mix Cu-1`: the row on the sheets of its loads
  std::vector<MixPart> parts{};            ///< powders, then the carrier if there is one
  std::vector<MixStep> steps{};            ///< the last one gives the mix
  std::int64_t mass_mg = 0;                ///< of the last step
  std::int64_t taken_mg = 0;               ///< by all loads; of a solution, by all plots
  std::vector<std::string> batch_codes{};  ///< of the loads that take from it
  std::string carrier{};                   ///< empty: none
  std::size_t application = 0;   ///< into `TrialPlan::applications`: the first that takes from it
  bool carrier_in_load = false;  ///< the loads hold the carrier anyway, and weigh less of it
  bool solution = false;         ///< in water: sprayed on plots, and no load takes of it
  std::vector<Note> cautions{};  ///< for the people who mix
};

/// How far chance alone moves the share of a material from plot to plot.
///
/// Granules are drawn into a plot's product one by one. With granules of equal mass their number of
/// one kind is binomial: n granules and a share p give a standard deviation of sqrt((1 - p) / (n
/// p)) of the share. With m_j the mass of a granule and w_j the share of kind j in a product of
/// mass W: sqrt(((1 - w)^2 m w + w^2 sum of the others' m_j w_j) / W) / w, which is the same for
/// equal m_j.
struct ShareVariation {
  std::string material{};        ///< a granular material
  double granules = 0;           ///< of it on the smallest plot, about
  double share_percent = 0;      ///< of the product
  double deviation_percent = 0;  ///< one standard deviation, of the share
};

}  // namespace leastwise
