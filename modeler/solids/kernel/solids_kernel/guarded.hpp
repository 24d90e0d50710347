#pragma once

#include "base/result.hpp"

#include <Standard_Failure.hxx>

#include <exception>
#include <string>
#include <utility>

namespace ribbay {

/// An error `code` about `subject`: a part id, or empty when only the caller knows it.
inline Finding solid_error(std::string code, const std::string& subject = {}) {
  Finding finding;
  finding.code = std::move(code);
  if (!subject.empty()) finding.subjects = {subject};
  return finding;
}

/// Runs `body`, which returns some Result<T>, and turns whatever the kernel throws into the finding
/// `code` about `subject`. Standard_Failure is not a std::exception, so both are caught.
template <class F>
auto guarded(const std::string& code, const std::string& subject, F&& body) -> decltype(body()) {
  const auto failed = [&](const std::string& reason) {
    return fail(solid_error(code, subject).with("reason", reason));
  };
  try {
    return std::forward<F>(body)();
  } catch (const Standard_Failure& e) {
    return failed(std::string(e.DynamicType()->Name()) + ": " + e.GetMessageString());
  } catch (const std::exception& e) {
    return failed(e.what());
  }
}

}  // namespace ribbay
