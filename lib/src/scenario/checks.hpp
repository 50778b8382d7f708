#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/unit_system.hpp>

#include <optional>
#include <string>
#include <string_view>

#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// The numbers a field may hold, and how to say so.
struct Range {
  double min = 0;
  double max = 0;
  bool above_min = false;            ///< the minimum itself is excluded
  std::string_view unit{};           ///< `percent`, `kg per hectare`; empty for a plain number
  std::optional<Measure> measure{};  ///< where the unit depends on the system of units
  std::string_view us_unit{};        ///< `lb per acre`
};

inline constexpr double largest_number = 1e9;  ///< beyond any price, rate or stock that is meant
inline constexpr Range percent_range{0, 100, false, "percent"};
inline constexpr Range rate_range{
    0, largest_number, false, "kg per hectare", Measure::rate, "lb per acre"};
inline constexpr Range ratio_range{0, largest_number, false, ""};
inline constexpr Range sgn_range{0, 2000, true, ""};
inline constexpr Range price_range{-largest_number, largest_number,          false,
                                   "per tonne",     Measure::price_of_goods, "per short ton"};
inline constexpr Range charge_range{0,           largest_number,          false,
                                    "per tonne", Measure::price_of_goods, "per short ton"};
inline constexpr Range stock_range{0, largest_number, false, "kg", Measure::mass, "lb"};

/// The checks that every field of a kind shares. Each answers whether the value may be used.
class Checks {
 public:
  Checks(const ScenarioDraft& draft, DiagnosticSink& diagnostics)
      : draft_(&draft), diagnostics_(&diagnostics) {}

  bool number(const std::string& path, std::string_view what, double value, const Range& range);
  /// At least one side, each in `range`, the minimum not over the maximum.
  bool limits(const std::string& path, std::string_view what, const Limits& limits,
              const Range& range);
  /// Text in UTF-8.
  bool text(const std::string& path, std::string_view what, std::string_view words);
  /// A name: in UTF-8, not empty, no control characters, no blanks around it, at most 100 bytes.
  bool name(const std::string& path, std::string_view what, std::string_view name);

  /// A name of something contained: a plus sign would make it a sum.
  bool content_name(const std::string& path, std::string_view name);

  /// Where a side of limits was written: `min`, `max`, or `exactly` for both.
  [[nodiscard]] std::string side(const std::string& path, std::string_view side) const;

 private:
  /// `value`, a number of that range, as the file states it.
  [[nodiscard]] std::string figure(double value, const Range& range) const;

  const ScenarioDraft* draft_;
  DiagnosticSink* diagnostics_;
};

}  // namespace leastwise
