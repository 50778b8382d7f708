#pragma once
#include <leastwise/render.hpp>

#include <span>
#include <string>
#include <string_view>

#include "report/kit/page.hpp"

namespace leastwise::report {

// What `render` puts together, each defined in the file of its answer. Pages, CSV and pictures are
// written of an answer in its own units, JSON of the metric one.

[[nodiscard]] Page page_of(const Formulation& answer, Medium medium);
[[nodiscard]] Page page_of(const Alternatives& list, Medium medium);
[[nodiscard]] Page page_of(const NearOptimum& answer, Medium medium);
[[nodiscard]] Page page_of(const Comparison& comparison, Medium medium);
[[nodiscard]] Page page_of(const LimitMap& map, Medium medium);
[[nodiscard]] Page page_of(const PriceMap& map, Medium medium);
[[nodiscard]] Page page_of(const PriceRegions& map, Medium medium);
[[nodiscard]] Page page_of(const PriceRisk& risk, Medium medium);
[[nodiscard]] Page page_of(const RoundedBlend& blend, Medium medium);
[[nodiscard]] Page page_of(const SeasonPlan& plan, Medium medium);
[[nodiscard]] Page page_of(std::span<const Material> materials, Medium medium);
[[nodiscard]] Page page_of(const Quote& quote, std::string_view source, Medium medium);

[[nodiscard]] std::string json_of(const Formulation& answer);
[[nodiscard]] std::string json_of(const ProvenFormulation& proven);
[[nodiscard]] std::string json_of(const Alternatives& list);
[[nodiscard]] std::string json_of(const NearOptimum& answer);
[[nodiscard]] std::string json_of(const Comparison& comparison);
[[nodiscard]] std::string json_of(const LimitMap& map);
[[nodiscard]] std::string json_of(const PriceMap& map);
[[nodiscard]] std::string json_of(const PriceRegions& map);
[[nodiscard]] std::string json_of(const PriceRisk& risk);
[[nodiscard]] std::string json_of(const RoundedBlend& blend);
[[nodiscard]] std::string json_of(const SeasonPlan& plan);
[[nodiscard]] std::string json_of(std::span<const Material> materials);
[[nodiscard]] std::string json_of(const Quote& quote, std::string_view source);

[[nodiscard]] std::string csv_of(const Formulation& answer);
[[nodiscard]] std::string csv_of(const Alternatives& list);
[[nodiscard]] std::string csv_of(const NearOptimum& answer);
[[nodiscard]] std::string csv_of(const Comparison& comparison);
[[nodiscard]] std::string csv_of(const LimitMap& map);
[[nodiscard]] std::string csv_of(const PriceMap& map);
[[nodiscard]] std::string csv_of(const PriceRegions& map);
[[nodiscard]] std::string csv_of(const PriceRisk& risk);
[[nodiscard]] std::string csv_of(const RoundedBlend& blend);
[[nodiscard]] std::string csv_of(const SeasonPlan& plan);
[[nodiscard]] std::string csv_of(std::span<const Material> materials);
[[nodiscard]] std::string csv_of(const Quote& quote, std::string_view source);

[[nodiscard]] std::string svg_of(const Formulation& answer);
[[nodiscard]] std::string svg_of(const Alternatives& list);
[[nodiscard]] std::string svg_of(const NearOptimum& answer);
[[nodiscard]] std::string svg_of(const Comparison& comparison);
[[nodiscard]] std::string svg_of(const LimitMap& map);
[[nodiscard]] std::string svg_of(const PriceMap& map);
[[nodiscard]] std::string svg_of(const PriceRegions& map);
[[nodiscard]] std::string svg_of(const PriceRisk& risk);
[[nodiscard]] std::string svg_of(const RoundedBlend& blend);

// Short as they are, these two are no pages in plain text.

[[nodiscard]] std::string text_of(const Verification& verification);
[[nodiscard]] std::string json_of(const Verification& verification);
[[nodiscard]] std::string csv_of(const Verification& verification);
[[nodiscard]] Page page_of(const Verification& verification);

[[nodiscard]] std::string text_of(const Scenario& checked, std::string_view name);
[[nodiscard]] std::string json_of(const Scenario& checked, std::string_view name);
[[nodiscard]] std::string csv_of(const Scenario& checked, std::string_view name);
[[nodiscard]] Page page_of(const Scenario& checked, std::string_view name);

}  // namespace leastwise::report
