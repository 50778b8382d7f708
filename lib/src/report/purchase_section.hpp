#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/unit_system.hpp>

#include <span>
#include <string_view>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// What is bought at a price by quantity or in lots; nothing where there is none. `whose` takes it.
void write_by_quantity(Page& page, std::span<const BlendPurchase> purchases,
                       std::string_view currency, Units units, std::string_view whose);

}  // namespace leastwise::report
