#pragma once
#include <leastwise/note.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

#include <string>
#include <vector>

namespace leastwise::trial {

/// What must be settled before anything is weighed: what is to be ground or screened, granules of
/// different size, pairs that may not be kept, and the humidity at which the mixture draws water.
[[nodiscard]] std::vector<Note> stop_conditions(const Scenario& scenario,
                                                const std::vector<Weighing>& load);

/// Adds to `conditions` those of `notes` that the person at the mixer must see before weighing: rates above what is usual, a coating that falls off, what the balance rounds away,
/// binders and fillers that only a statement calls safe.
void add_warnings(const std::vector<Note>& notes, std::vector<Note>& conditions);

/// Critical relative humidity of a mixture of families, as an advisory.
struct HumidityAdvice {
  double percent = 0;
  std::string of{};      ///< `urea with ammonium-nitrate`, or one salt
  bool is_pair = false;  ///< the published value of a pair; false: of the weakest salt alone
  std::string source{};
};

/// The lowest published value among the pairs present; without one, the lowest of the salts, below
/// which the mixture lies. Nothing when the table has none of the families.
[[nodiscard]] std::optional<HumidityAdvice> critical_humidity(
    const std::vector<std::string>& families);

}  // namespace leastwise::trial
