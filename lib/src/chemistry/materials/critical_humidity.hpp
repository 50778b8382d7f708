#pragma once
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

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

}  // namespace leastwise
