#include "c/handles.hpp"

leastwise_result leastwise_error_result(const leastwise_error* error) {
  return error == nullptr ? LEASTWISE_OK : error->result;
}

const char* leastwise_error_text(const leastwise_error* error) {
  return error == nullptr ? "" : error->text.c_str();
}

size_t leastwise_error_diagnostic_count(const leastwise_error* error) {
  return error == nullptr ? 0 : error->diagnostics.size();
}

leastwise_result leastwise_error_diagnostic(const leastwise_error* error, size_t index,
                                            leastwise_diagnostic* diagnostic) {
  if (index >= leastwise_error_diagnostic_count(error) || diagnostic == nullptr)
    return LEASTWISE_BAD_ARGUMENT;
  const leastwise::Diagnostic& found = error->diagnostics[index];
  *diagnostic = {static_cast<leastwise_severity>(found.severity),
                 found.code.c_str(),
                 found.message.c_str(),
                 found.path.c_str(),
                 found.place.source.c_str(),
                 found.place.line,
                 found.place.column,
                 found.place.width,
                 error->pages[index].c_str()};
  return LEASTWISE_OK;
}
