#include "base/messages.hpp"

namespace ribbay {

const std::vector<Message>& english_messages() {
  // Sorted by code (a test looks). Write what is wrong with both numbers, then in the advice how to mend it.
  static const std::vector<Message> table = {
  };
  return table;
}

}  // namespace ribbay
