#pragma once
#include <leastwise/export.h>
#include <leastwise/declared_analysis.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/quote_terms.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What a line of a quote pays for.
enum class QuoteLineKind {
  material,          ///< a material, delivered to the plant
  binder,            ///< the binder of the coating
  blending,          ///< the blending fee
  overhead,          ///< what the plant adds for its own costs
  bags,              ///< what the product is filled into
  margin,            ///< as the terms have it
  rounding,          ///< what rounding the price of a tonne to whole cents adds to the order
  outbound_freight,  ///< from the plant to the customer
};

/// The spelling of reports: `material`, `outbound-freight`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(QuoteLineKind kind);

/// One line of a quote. Amounts of money are whole cents, and add up.
struct QuoteLine {
  QuoteLineKind kind = QuoteLineKind::material;  ///< what it pays for
  std::string name{};                            ///< of the material or binder; else empty
  std::string supplier{};                        ///< of a material, where the price list has it
  Form form = Form::granule;                     ///< of a material: granule or powder
  std::optional<double> kg_per_t{};              ///< per tonne of product; goods only
  std::optional<double> price_per_t{};           ///< of a tonne of the material
  std::optional<double> freight_per_t{};         ///< of a tonne of the material, to the plant
  std::optional<double> delivered_per_t{};       ///< the sum of both
  double amount_per_t = 0;                       ///< currency per tonne of product
  std::optional<double> kg{};                    ///< for the whole order; goods only
  std::optional<double> amount{};                ///< currency for the whole order
};

/// Sums of a quote, in whole cents.
struct QuoteSums {
  double materials = 0;  ///< delivered to the plant
  double cost = 0;       ///< with binder, fee, overhead and bags
  double at_plant = 0;   ///< with the margin
  double delivered = 0;  ///< with freight to the customer: what the customer pays
};

/// A limit that the product was asked to meet.
struct QuoteLimit {
  RuleId id{};                       ///< which
  double limit = 0;                  ///< in `unit`
  LimitUnit unit = LimitUnit::none;  ///< of the limit
};

/// The price of a blend and all that it is made of.
///
/// The price of a tonne is rounded to whole cents and binds; the order costs that times its
/// tonnes. Each cost of the order is rounded on its own, and the margin takes up the difference.
///
/// A scenario in US units is quoted by the short ton, whose price is whole cents. Every field of
/// its quote but `blend` then counts in US units, whatever its name says: `per_t` is per short ton,
/// `kg` is lb, `hectares` are acres. Reports name the unit.
struct Quote {
  Units units = Units::metric;       ///< of every field but `blend`
  QuoteTerms terms{};                ///< as the scenario states them
  std::string prices_on{};           ///< the day of the prices; may be empty
  std::string plant{};               ///< to which the list delivers; empty: it has no plants
  std::string price_list{};          ///< file of the prices; empty: the scenario states them
  std::vector<QuoteLine> lines{};    ///< in the order of `QuoteLineKind`
  QuoteSums per_t{};                 ///< currency per tonne of product
  std::optional<double> tonnes{};    ///< of the order; empty without `make`
  std::optional<double> hectares{};  ///< of the order, where `make` states them
  std::optional<QuoteSums> order{};  ///< currency for the whole order
  std::optional<double> delivered_per_ha{};  ///< the price of a hectare; per-hectare basis only
  std::optional<long> bags{};                ///< for the order, the last maybe not full
  std::vector<QuoteLimit> asked{};           ///< the limits of the scenario
  DeclaredAnalysis declared{};               ///< what a label could say
  Blend blend{};                             ///< the blend that is quoted
};

/// The quote for `blend`, an answer to `scenario`, by the terms that the scenario states.
///
/// Throws: InputError when something in the blend has no stated price, at its place in the file.
/// Thread safety: safe on any threads at once.
[[nodiscard]] LEASTWISE_API Quote quote_of(const Scenario& scenario, const Blend& blend);

}  // namespace leastwise
