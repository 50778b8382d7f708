#include "scenario/contents.hpp"

#include <leastwise/nutrient.hpp>

#include <map>
#include <optional>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/published_figures.hpp"

namespace leastwise {
namespace {

/// Room for sums of stated decimals, percent.
constexpr double rounding = 1e-6;

const Content* find(const std::vector<Content>& contents, std::string_view name) {
  for (const auto& content : contents) {
    if (content.name == name) return &content;
  }
  return nullptr;
}

struct StatedContents {
  const std::vector<Content>& contents;
  const std::string& path;
  const std::string& material;
  DiagnosticSink& diagnostics;

  [[nodiscard]] std::string owner() const { return " of material " + in_quotes(material); }
};

void check_parents(const StatedContents& stated) {
  for (const auto& content : stated.contents) {
    const auto parent = parent_of_form(content.name);
    if (!parent || stated_percent(stated.contents, *parent)) continue;
    stated.diagnostics.error(codes::form_without_parent, below(stated.path, content.name),
                             in_quotes(content.name) + stated.owner() + " is a part of " +
                                 in_quotes(*parent) + ", which is not stated; add " +
                                 std::string(*parent));
  }
}

/// A group of forms that together cannot exceed their nutrient.
void check_forms(const StatedContents& stated, std::string_view parent,
                 const std::vector<std::string_view>& forms) {
  const auto whole = stated_percent(stated.contents, parent);
  if (!whole) return;
  double sum = 0;
  std::vector<std::string> names;
  for (const auto form : forms) {
    if (const auto* content = find(stated.contents, form)) {
      sum += content->percent;
      names.push_back(content->name);
    }
  }
  if (names.empty() || sum <= *whole + rounding) return;
  stated.diagnostics.error(
      codes::forms_over_parent, below(stated.path, names.back()),
      listed(names) + stated.owner() +
          (names.size() > 1 ? " must together be at most its " : " must be at most its ") +
          rounded_text(*whole) + " percent " + std::string(parent) + ", found " +
          rounded_text(sum) + " percent");
}

void check_twice(const StatedContents& stated) {
  std::map<std::string_view, const Content*> by_element;
  for (const auto& content : stated.contents) {
    const auto element = element_of(content.name);
    if (!element) continue;
    const auto [other, is_new] = by_element.emplace(*element, &content);
    if (is_new || other->second->name == content.name) continue;
    stated.diagnostics.error(codes::stated_twice, below(stated.path, content.name),
                             "one nutrient" + stated.owner() + " must be stated once, found both " +
                                 in_quotes(other->second->name) + " and " +
                                 in_quotes(content.name));
  }
}

void check_sum(const StatedContents& stated) {
  double sum = 0;
  for (const auto& content : stated.contents) {
    const auto element = element_of(content.name);
    if (!element) continue;
    sum += content.percent * conversion_factor(content.name, *element).value_or(1);
  }
  if (sum <= 100 + rounding) return;
  stated.diagnostics.error(
      codes::contents_over_100, stated.path,
      "the contents" + stated.owner() +
          " must be at most 100 percent together, counted as elements, found " + rounded_text(sum) +
          " percent");
}

}  // namespace

Range content_range(std::string_view name) {
  constexpr double most_lime = 400;  // no carbonate, hydroxide or acid is stronger
  if (name == lime_need_name) return {-most_lime, most_lime, false, "percent"};
  return is_percentage(name) ? percent_range : Range{0, largest_number, false, ""};
}

std::optional<double> stated_percent(const std::vector<Content>& contents, std::string_view name) {
  if (const auto* content = find(contents, name)) return content->percent;
  for (const auto& content : contents) {
    if (!element_of(content.name)) continue;
    if (const auto factor = conversion_factor(content.name, name)) return content.percent * *factor;
  }
  return std::nullopt;
}

void check_contents(const std::vector<Content>& contents, const std::string& path,
                    const std::string& material, Checks& checks, DiagnosticSink& diagnostics) {
  if (diagnostics.touched(path)) return;
  const StatedContents stated{contents, path, material, diagnostics};
  bool good = true;
  std::map<std::string_view, bool> seen;
  for (const auto& content : contents) {
    const std::string place = below(path, content.name);
    good = checks.content_name(place, content.name) && good;
    good = checks.number(place, in_quotes(content.name) + stated.owner(), content.percent,
                         content_range(content.name)) &&
           good;
    if (!seen.emplace(content.name, true).second) {
      diagnostics.error(codes::duplicate_name, place,
                        in_quotes(content.name) + stated.owner() + " is stated twice");
      good = false;
    }
  }
  if (!good) return;
  check_twice(stated);
  check_parents(stated);
  check_forms(stated, "N", {"N-urea", "N-ammonium", "N-nitrate"});
  check_forms(stated, "N", {"N-slow"});
  check_forms(stated, "P2O5", {"P2O5-water"});
  check_forms(stated, "P2O5", {"P2O5-citrate"});
  check_sum(stated);
}

}  // namespace leastwise
