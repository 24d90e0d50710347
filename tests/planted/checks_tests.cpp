// Each check is seen to fail: for every code that a check can tell there is a scene without it and
// a fault that brings it.
#include "base/messages.hpp"
#include "faults.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::planted;
using testing::has_code;
using testing::words;

TEST_CASE("each check finds the fault that is planted for it", "[planted]") {
  int false_passes = 0;
  int false_alarms = 0;
  for (const Fault& fault : faults()) {
    const Findings before = all_findings(fault.sound());
    const Findings after = all_findings(planted::planted(fault));
    CAPTURE(fault.code, words(before), words(after));
    CHECK_FALSE(has_code(before, fault.code));
    CHECK(has_code(after, fault.code));
    false_alarms += has_code(before, fault.code) ? 1 : 0;
    false_passes += has_code(after, fault.code) ? 0 : 1;
  }
  WARN("planted faults: " << faults().size() << ", false passes: " << false_passes
                          << ", false alarms: " << false_alarms);
}

TEST_CASE("no code of a check is without a planted fault", "[planted]") {
  int codes = 0;
  for (const Message& message : english_messages()) {
    if (!of_checks(message.code)) continue;
    ++codes;
    CAPTURE(message.code);
    CHECK(std::ranges::any_of(faults(), [&](const Fault& fault) {
      return message.code == std::string_view(fault.code);
    }));
  }
  CHECK(codes >= 30);
}
