#pragma once
#include <leastwise/formulation.hpp>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// What sets the price of `blend`: a table of the rules that bind, with what a unit more and a unit
/// less of each limit adds to the cost, how far that holds and what the rule pays for.
void write_binding(Page& page, const Blend& blend);

/// The table alone.
[[nodiscard]] Table price_table(const Blend& blend);

/// What a change of a limit adds to the cost: `+8.91`, `-0.350`, `0`; `no blend` where there is
/// none, `?` where it was not looked for.
[[nodiscard]] std::string change_text(const Known<double>& rise);

}  // namespace leastwise::report
