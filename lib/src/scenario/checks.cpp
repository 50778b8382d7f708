#include "scenario/checks.hpp"

#include <algorithm>
#include <cmath>

#include "base/codes.hpp"
#include "base/text/utf8.hpp"
#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"

namespace leastwise {
namespace {

constexpr std::size_t longest_name = 100;

/// What the range asks of a value that is not in it.
std::string describe(const Range& range, double value, Units units) {
  const std::string_view name = range.measure && units == Units::us ? range.us_unit : range.unit;
  const std::string unit = name.empty() ? std::string() : " " + std::string(name);
  const bool is_wide = range.max >= largest_number;
  if (is_wide && value > range.max) return "at most 1e9" + unit;
  if (is_wide && range.min <= -largest_number) return "at least -1e9" + unit;
  if (is_wide) return (range.above_min ? "above " : "at least ") + number_text(range.min) + unit;
  const auto end = [&](double limit) {
    if (!range.measure || units == Units::metric) return number_text(limit);
    return rounded_text(from_metric(limit, *range.measure, units));
  };
  return (range.above_min ? "above " + end(range.min) + " and at most "
                          : "from " + end(range.min) + " to ") +
         end(range.max) + unit;
}

}  // namespace

bool Checks::number(const std::string& path, std::string_view what, double value,
                    const Range& range) {
  const bool fits = std::isfinite(value) && value <= range.max &&
                    (range.above_min ? value > range.min : value >= range.min);
  if (fits) return true;
  const std::string found = std::isnan(value) ? "no number" : figure(value, range);
  diagnostics_->error(
      codes::out_of_range, path,
      std::string(what) + " must be " + describe(range, value, draft_->units) + ", found " + found);
  return false;
}

std::string Checks::figure(double value, const Range& range) const {
  return range.measure ? figure_text(value, *range.measure, draft_->units) : number_text(value);
}

std::string Checks::side(const std::string& path, std::string_view side) const {
  std::string exactly = below(path, "exactly");
  if (draft_->places.find(exactly) != draft_->places.end()) return exactly;
  return below(path, side);
}

bool Checks::limits(const std::string& path, std::string_view what, const Limits& limits,
                    const Range& range) {
  if (diagnostics_->touched(path)) return false;
  const bool min_given = limits.has_min() || std::isnan(limits.min);
  const bool max_given = limits.has_max() || std::isnan(limits.max);
  if (!min_given && !max_given) {
    diagnostics_->error(
        codes::empty_limits, path,
        std::string(what) + " must have a limit, found none; add min, max or exactly");
    return false;
  }
  bool good = true;
  if (min_given) {
    const auto* word = limits.exact() ? "" : "the minimum of ";
    good = number(side(path, "min"), word + std::string(what), limits.min, range);
  }
  if (max_given && !limits.exact()) {
    good =
        number(side(path, "max"), "the maximum of " + std::string(what), limits.max, range) && good;
  }
  if (good && limits.min > limits.max) {
    diagnostics_->error(codes::min_over_max, side(path, "min"),
                        "the minimum of " + std::string(what) + " must not be over its maximum, " +
                            figure(limits.max, range) + ", found " + figure(limits.min, range));
    return false;
  }
  return good;
}

bool Checks::text(const std::string& path, std::string_view what, std::string_view words) {
  if (leastwise::text::is_utf8(words)) return true;
  diagnostics_->error(codes::not_text, path,
                      std::string(what) + " must be UTF-8 text, found a byte that is not");
  return false;
}

bool Checks::name(const std::string& path, std::string_view what, std::string_view name) {
  const auto complain = [&](const std::string& expected) {
    diagnostics_->error(codes::bad_name, path,
                        std::string(what) + " must " + expected + ", found " +
                            (name.empty() ? std::string("nothing") : in_quotes(name)));
    return false;
  };
  if (!text(path, what, name)) return false;
  if (name.empty()) return complain("not be empty");
  if (name.size() > longest_name) return complain("be at most 100 bytes long");
  if (printable(name) != name) {
    return complain("be on one line, without control characters");
  }
  if (name.front() == ' ' || name.back() == ' ') return complain("not begin or end with a blank");
  return true;
}

bool Checks::content_name(const std::string& path, std::string_view name) {
  if (!this->name(path, "the name of a nutrient", name)) return false;
  if (name.find('+') == std::string_view::npos) return true;
  diagnostics_->error(codes::bad_name, path,
                      "the name of a content must not hold a plus sign, which adds up contents "
                      "where they are limited, found " +
                          in_quotes(name));
  return false;
}

}  // namespace leastwise
