#include <leastwise/report.hpp>

#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

leastwise_result leastwise_error_result(const leastwise_error* error) {
  return error == nullptr ? LEASTWISE_OK : error->result;
}

const char* leastwise_error_text(const leastwise_error* error) {
  return error == nullptr ? "" : error->text.c_str();
}

char* leastwise_error_to_json(const leastwise_error* error) {
  if (error == nullptr) return nullptr;
  try {
    auto diagnostics = error->diagnostics;
    if (diagnostics.empty()) {  // a fault that is no finding about an input
      leastwise::Diagnostic fault;
      fault.code = error->result == LEASTWISE_BAD_ARGUMENT ? "bad-argument" : "internal";
      fault.message = error->text.substr(0, error->text.find('\n'));
      diagnostics.push_back(fault);
    }
    return given_away(leastwise::to_json(leastwise::InputError(diagnostics), "scenario"));
  } catch (...) {
    return nullptr;
  }
}
