#pragma once
#include <leastwise/answer_mark.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/formulation.hpp>

#include <string>

namespace leastwise::report {

/// A text as a value of JSON.
[[nodiscard]] std::string json_of_text(const std::string& text);

/// The line of an answer. `id` is JSON: what the question calls itself, or `null`. `full`: with the
/// whole report.
[[nodiscard]] std::string answer_line(const AnswerMark& mark, const std::string& id,
                                      const Formulation& answer, bool full);

/// The line of a question that was rejected.
[[nodiscard]] std::string rejected_line(const AnswerMark& mark, const std::string& id,
                                        const InputError& error);

}  // namespace leastwise::report
