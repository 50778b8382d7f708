#include "chemistry/materials/critical_humidity.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

/// The salt of the humidity tables that a family of materials mostly is, where the names differ.
constexpr std::array<std::pair<std::string_view, std::string_view>, 5> salts_of_families{{
    {"calcium-ammonium-nitrate", "ammonium-nitrate"},
    {"ammonium-sulfate-nitrate", "ammonium-nitrate"},
    {"coated-urea", "urea"},
    {"single-superphosphate", "monocalcium-phosphate"},
    {"triple-superphosphate", "monocalcium-phosphate"},
}};

std::string_view salt_of(std::string_view family) {
  for (const auto& [name, salt] : salts_of_families) {
    if (name == family) return salt;
  }
  return family;
}

const Table& pure_table() {
  static const Table table("critical_relative_humidity_pure.csv",
                           embedded::critical_relative_humidity_pure_csv());
  return table;
}

const Table& pair_table() {
  static const Table table("critical_relative_humidity_pairs.csv",
                           embedded::critical_relative_humidity_pairs_csv());
  return table;
}

}  // namespace

std::optional<HumidityAdvice> critical_humidity(const std::vector<std::string>& families) {
  const auto present = [&](std::string_view salt) {
    return std::any_of(families.begin(), families.end(),
                       [salt](const std::string& family) { return salt_of(family) == salt; });
  };
  std::optional<HumidityAdvice> advice;
  const auto offer = [&](double percent, std::string of, bool is_pair, std::string source) {
    if (!advice || percent < advice->percent) {
      advice = HumidityAdvice{percent, std::move(of), is_pair, std::move(source)};
    }
  };
  const Table& pairs = pair_table();
  for (std::size_t row = 0; row < pairs.size(); ++row) {
    const auto& a = pairs.text(row, "substance_a");
    const auto& b = pairs.text(row, "substance_b");
    if (!present(a) || !present(b)) continue;
    offer(pairs.number(row, "humidity_percent"), a + " with " + b, true, pairs.source(row));
  }
  const Table& pure = pure_table();
  for (std::size_t row = 0; row < pure.size(); ++row) {
    const auto& salt = pure.text(row, "substance");
    if (!present(salt)) continue;
    offer(pure.number(row, "humidity_percent"), salt, false, pure.source(row));
  }
  return advice;
}

}  // namespace leastwise
