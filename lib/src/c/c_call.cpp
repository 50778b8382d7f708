#include <chrono>
#include <cmath>
#include <string>

#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

leastwise_call* leastwise_call_new(void) {
  try {
    return new leastwise_call;
  } catch (...) {
    return nullptr;
  }
}

void leastwise_call_free(leastwise_call* call) { delete call; }

leastwise_result leastwise_call_time_limit(leastwise_call* call, double seconds) {
  if (call == nullptr || !(seconds > 0)) return LEASTWISE_BAD_ARGUMENT;
  call->value.limits.time_limit.reset();
  if (std::isfinite(seconds))
    call->value.limits.time_limit = std::chrono::duration<double>(seconds);
  return LEASTWISE_OK;
}

leastwise_result leastwise_call_intervals(leastwise_call* call, int wanted) {
  if (call == nullptr) return LEASTWISE_BAD_ARGUMENT;
  call->intervals = wanted != 0;
  return LEASTWISE_OK;
}

leastwise_result leastwise_call_threads(leastwise_call* call, unsigned count) {
  if (call == nullptr) return LEASTWISE_BAD_ARGUMENT;
  call->threads = count;
  return LEASTWISE_OK;
}

leastwise_result leastwise_call_folder(leastwise_call* call, const char* folder,
                                       int allow_outside) {
  return guarded(nullptr, [&] {
    required(call, "call").value.folder = folder == nullptr ? "" : folder;
    call->value.allow_outside = allow_outside != 0;
  });
}

leastwise_result leastwise_call_name(leastwise_call* call, const char* name) {
  return guarded(nullptr, [&] { required(call, "call").value.name = text_of(name, "name"); });
}

leastwise_result leastwise_call_progress(leastwise_call* call, leastwise_progress progress,
                                         void* context) {
  return guarded(nullptr, [&] {
    auto& told = required(call, "call").value.limits.progress;
    told = nullptr;
    if (progress != nullptr)
      told = [progress, context](const leastwise::Progress& how_far) {
        progress(std::string(how_far.of).c_str(), how_far.done, how_far.all, context);
      };
  });
}

void leastwise_call_stop(leastwise_call* call) {
  if (call != nullptr) call->stop.request_stop();
}
