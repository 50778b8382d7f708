#pragma once
#include <leastwise/formula.hpp>

#include <string>
#include <vector>

#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// Checks what a material states it contains: each figure by itself, forms against their nutrient,
/// no nutrient stated twice, elements at most 100 % together. `path` is that of the contents.
void check_contents(const std::vector<Content>& contents, const std::string& path,
                    const std::string& material, Checks& checks, DiagnosticSink& diagnostics);

/// What a content of that name may be.
[[nodiscard]] Range content_range(std::string_view name);

/// Percent of the element behind `name` that `contents` state, as `name`; nothing when unstated.
[[nodiscard]] std::optional<double> stated_percent(const std::vector<Content>& contents,
                                                   std::string_view name);

}  // namespace leastwise
