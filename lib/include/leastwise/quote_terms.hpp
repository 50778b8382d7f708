#pragma once
#include <optional>
#include <string>

namespace leastwise {

/// What the product is filled into.
struct BagTerms {
  double kg = 0;          ///< of product in each
  double price_each = 0;  ///< currency per bag; default 0
};

/// What a quote says beside the recipe: to whom, until when, and what comes on top of the cost.
///
/// The cost of a tonne is materials, freight to the plant, binder, blending fee, overhead and bags.
/// At most one of the three margins is stated; it applies to all of that. Freight to the customer
/// comes on top of the price at the plant, without a margin.
struct QuoteTerms {
  std::string number{};                            ///< of the quote; may be empty
  std::string customer{};                          ///< whom it is for; may be empty
  std::string date{};                              ///< of the quote, `2026-03-02`; may be empty
  std::string valid_until{};                       ///< the last day it holds; may be empty
  std::optional<double> overhead_per_t{};          ///< per tonne of product; default 0
  std::optional<double> margin_percent{};          ///< of the price at the plant, below 100
  std::optional<double> markup_percent{};          ///< of the cost
  std::optional<double> margin_per_t{};            ///< currency per tonne of product
  std::optional<double> outbound_freight_per_t{};  ///< to the customer; default 0
  std::optional<BagTerms> bags{};                  ///< loose goods when empty
};

/// How the contents of the product are to be declared.
struct DeclarationTerms {
  /// Whose minima and tolerances stand beside the figures: `aafco` or `eu-2019-1009`; empty: none.
  std::string rules{};
  /// `oxide` or `element`, for P, K, Ca, Mg, S, Na and Si. Empty: P and K as oxides, the others as
  /// elements, or as oxides under `eu-2019-1009`.
  std::string stated_as{};
  /// Contents above 1 % are rounded down to whole steps of this; default 0.1.
  std::optional<double> step_percent{};
};

}  // namespace leastwise
