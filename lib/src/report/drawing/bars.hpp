#pragma once
#include <optional>
#include <string>
#include <vector>

#include "report/drawing/picture.hpp"

namespace leastwise::report {

/// One line of a bar chart.
struct Bar {
  std::string label{};
  std::optional<double> value{};   ///< empty: there is no bar, the words say why
  std::optional<double> second{};  ///< a paler bar beneath
  std::string words{};             ///< the value as a reader wants it
};

/// Bars from zero, one below the other, each under its own label. The description is made of the
/// labels and words; `legend` says what is drawn.
[[nodiscard]] Picture bar_chart(std::string title, const std::string& legend,
                                const std::vector<Bar>& bars);

}  // namespace leastwise::report
