#include "dates.hpp"

#include <array>
#include <charconv>
#include <chrono>
#include <cstdint>
#include <cstdio>

namespace ribbay::detail {

std::string date_of(const std::optional<std::string>& source_date_epoch) {
  if (!source_date_epoch) return {};
  constexpr std::int64_t last = 253'402'300'799;  // 9999-12-31T23:59:59Z
  std::int64_t seconds = -1;
  const char* end = source_date_epoch->data() + source_date_epoch->size();
  const auto read = std::from_chars(source_date_epoch->data(), end, seconds);
  if (read.ec != std::errc() || read.ptr != end || seconds < 0 || seconds > last) return {};

  using namespace std::chrono;
  const year_month_day day(floor<days>(sys_seconds(std::chrono::seconds(seconds))));
  std::array<char, 16> text{};
  const int length =
      std::snprintf(text.data(), text.size(), "%04d-%02u-%02u", static_cast<int>(day.year()),
                    static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
  return {text.data(), static_cast<std::size_t>(length)};
}

}  // namespace ribbay::detail
