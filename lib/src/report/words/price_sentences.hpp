#pragma once
#include <leastwise/formulation.hpp>

#include <string>

namespace leastwise::report {

/// What a small change of the limit of `rule` does to the cost, in plain sentences: `Asking for
/// one kg/ha more N costs 1.12 USD/ha, one less saves as much. This holds from 58.2 to 63 kg/ha.`
[[nodiscard]] std::string price_in_words(const BindingRule& rule);

}  // namespace leastwise::report
