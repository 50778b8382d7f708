#pragma once
#include <leastwise/export.h>

#include <span>
#include <string>
#include <string_view>

namespace leastwise {

/// Whether two families of materials may lie in one blend.
enum class Compatibility {
  compatible,    ///< may lie together
  limited,       ///< mix and spread at once, do not store; excluded only when the scenario says so
  incompatible,  ///< never in one blend
};

/// The spelling used in reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Compatibility level);

/// One line of the built-in table. `family_a` < `family_b` alphabetically.
struct CompatibilityRule {
  std::string family_a{};                           ///< the first
  std::string family_b{};                           ///< the second
  Compatibility level = Compatibility::compatible;  ///< what the pair may do
  std::string reason{};                             ///< the chemistry, in one sentence
  std::string source{};                             ///< publication, or `from memory`
};

/// A family of the built-in table.
struct Family {
  std::string name{};                ///< as materials state it
  std::string description{};         ///< which goods belong to it
  bool oxidizer = false;             ///< oil, wax and other organic matter must never touch it
  double most_nitrogen_percent = 0;  ///< goods of the family hold no more, by mass
};

/// All built-in rules, sorted by the two families.
[[nodiscard]] LEASTWISE_API std::span<const CompatibilityRule> built_in_compatibility();

/// The built-in rule for an unordered pair, or null where the table is silent.
[[nodiscard]] LEASTWISE_API const CompatibilityRule* find_compatibility(std::string_view family_a,
                                                                        std::string_view family_b);

/// All built-in families, in the order of lib/data/families.csv.
[[nodiscard]] LEASTWISE_API std::span<const Family> built_in_families();

/// The built-in family of that name, or null.
[[nodiscard]] LEASTWISE_API const Family* find_family(std::string_view name);

/// What a binder is made of, as far as fire is concerned.
enum class BinderNature {
  organic,    ///< oil, wax, molasses ...: fuel for an oxidizer
  inorganic,  ///< water, sodium silicate ...
  unknown,    ///< not in the table; treated as organic unless the scenario says otherwise
};

}  // namespace leastwise
