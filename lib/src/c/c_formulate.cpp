#include <leastwise/formulate.hpp>

#include <chrono>
#include <cmath>

#include "c/call_options.hpp"
#include "c/guard.hpp"
#include "c/handles.hpp"

namespace leastwise::c {

FormulateOptions call_options(const leastwise_options* options) {
  FormulateOptions result;
  if (options == nullptr) return result;
  if (!(options->time_limit_s >= 0))
    throw CallerFault("expected a time limit of at least 0 seconds");
  if (options->time_limit_s > 0 && std::isfinite(options->time_limit_s))
    result.time_limit = std::chrono::duration<double>(options->time_limit_s);
  result.intervals = options->intervals != 0;
  if (options->stop != nullptr) result.stop = options->stop->value.get_token();
  return result;
}

}  // namespace leastwise::c

using namespace leastwise::c;

leastwise_stop* leastwise_stop_new(void) {
  try {
    return new leastwise_stop;
  } catch (...) {
    return nullptr;
  }
}

void leastwise_stop_free(leastwise_stop* stop) { delete stop; }

void leastwise_stop_request(leastwise_stop* stop) {
  if (stop != nullptr) stop->value.request_stop();
}

leastwise_options leastwise_default_options(void) { return {0, 1, nullptr}; }

leastwise_result leastwise_formulate(const leastwise_scenario* scenario,
                                     const leastwise_options* options, leastwise_answer** answer,
                                     leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(answer);
    out = new leastwise_answer{
        leastwise::formulate(required(scenario, "scenario").value, call_options(options))};
  });
}
