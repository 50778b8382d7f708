#pragma once
#include <leastwise/micronutrient.hpp>
#include <leastwise/scenario.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// Whether the scenario confirms a rate of `element` far above what is usual.
[[nodiscard]] bool confirms_high_rate(const ScenarioDraft& draft, std::string_view element);

/// Why `kg_per_ha` of a micronutrient is refused, told in `units`, and the key that confirms it.
[[nodiscard]] std::string high_rate_text(const Micronutrient& micronutrient, double kg_per_ha,
                                         Units units = Units::metric);

/// kg of `element` in `kg` of each material.
[[nodiscard]] double amount_of(const Scenario& scenario, const std::vector<double>& kg,
                               std::string_view element);

/// What to say of the rate of each micronutrient in `kg_per_ha` of each material: above or below
/// what is usual.
[[nodiscard]] std::vector<Note> notes_on_rates(const Scenario& scenario,
                                               const std::vector<double>& kg_per_ha);

/// How much of a product, of which only the composition is known, brings the usual rate of each
/// micronutrient that a material in it carries. `kg` of each material in `total` of product.
[[nodiscard]] std::vector<Note> notes_on_spreading(const Scenario& scenario,
                                                   const std::vector<double>& kg, double total);

/// What `kg` of each material in `total` of product supplies far beyond the minimum asked, and
/// whether granules that only carry the powders are the reason.
[[nodiscard]] std::vector<Note> notes_on_surplus(const Scenario& scenario,
                                                 const std::vector<double>& kg, double total);

}  // namespace leastwise
