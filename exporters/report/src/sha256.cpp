#include "report/sha256.hpp"

#include <array>
#include <bit>
#include <cstdint>

namespace ribbay {

namespace {

constexpr std::size_t kBlock = 64;
using Words = std::array<std::uint32_t, 8>;

// FIPS 180-4, 5.3.3: the first 32 bits of the fractional parts of the square roots of the first 8
// primes.
constexpr Words kStart = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                          0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};

// FIPS 180-4, 4.2.2: the same of the cube roots of the first 64 primes.
constexpr std::array<std::uint32_t, 64> kRound = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

std::uint32_t big_endian(std::string_view bytes) {
  std::uint32_t word = 0;
  for (std::size_t i = 0; i < 4; ++i) word = word << 8U | static_cast<unsigned char>(bytes[i]);
  return word;
}

/// FIPS 180-4, 6.2.2, step 3: h becomes the next a, d the next e. Instead of moving all eight on, the
/// caller names them one further.
void turn(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t& d, std::uint32_t e,
          std::uint32_t f, std::uint32_t g, std::uint32_t& h, std::uint32_t more) {
  const std::uint32_t sum1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
  const std::uint32_t choose = (e & f) ^ (~e & g);
  const std::uint32_t t1 = h + sum1 + choose + more;
  const std::uint32_t sum0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
  const std::uint32_t majority = (a & b) ^ (a & c) ^ (b & c);
  d += t1;
  h = t1 + sum0 + majority;
}

/// FIPS 180-4, 6.2.2: takes one block of 64 bytes into `hash`.
void take_block(Words& hash, std::string_view block) {
  std::array<std::uint32_t, 64> w;  // not cleared: this is called for each 64 bytes of all files
  for (std::size_t t = 0; t < 16; ++t) w[t] = big_endian(block.substr(4 * t, 4));
  for (std::size_t t = 16; t < 64; ++t) {
    const std::uint32_t s0 = std::rotr(w[t - 15], 7) ^ std::rotr(w[t - 15], 18) ^ w[t - 15] >> 3U;
    const std::uint32_t s1 = std::rotr(w[t - 2], 17) ^ std::rotr(w[t - 2], 19) ^ w[t - 2] >> 10U;
    w[t] = s1 + w[t - 7] + s0 + w[t - 16];
  }

  auto [a, b, c, d, e, f, g, h] = hash;
  for (std::size_t t = 0; t < 64; t += 8) {
    const auto more = [&](std::size_t k) { return kRound[t + k] + w[t + k]; };
    turn(a, b, c, d, e, f, g, h, more(0));
    turn(h, a, b, c, d, e, f, g, more(1));
    turn(g, h, a, b, c, d, e, f, more(2));
    turn(f, g, h, a, b, c, d, e, more(3));
    turn(e, f, g, h, a, b, c, d, more(4));
    turn(d, e, f, g, h, a, b, c, more(5));
    turn(c, d, e, f, g, h, a, b, more(6));
    turn(b, c, d, e, f, g, h, a, more(7));
  }
  const Words turned = {a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < hash.size(); ++i) hash[i] += turned[i];
}

/// What is left after the whole blocks, padded as in FIPS 180-4, 5.1.1: a 1 bit, zeros, the length
/// in bits.
std::string padded_rest(std::string_view bytes) {
  std::string rest(bytes.substr(bytes.size() / kBlock * kBlock));
  rest += '\x80';
  while (rest.size() % kBlock != kBlock - 8) rest += '\0';
  const std::uint64_t bits = static_cast<std::uint64_t>(bytes.size()) * 8;
  for (unsigned shift = 64; shift > 0; shift -= 8)
    rest += static_cast<char>(bits >> (shift - 8) & 0xffU);
  return rest;
}

void take_blocks(Words& hash, std::string_view bytes) {
  for (std::size_t at = 0; at + kBlock <= bytes.size(); at += kBlock) {
    take_block(hash, bytes.substr(at, kBlock));
  }
}

}  // namespace

std::string sha256(std::string_view bytes) {
  Words hash = kStart;
  take_blocks(hash, bytes);
  take_blocks(hash, padded_rest(bytes));

  constexpr std::string_view digits = "0123456789abcdef";
  std::string text;
  for (const std::uint32_t word : hash) {
    for (unsigned shift = 32; shift > 0; shift -= 4) text += digits[word >> (shift - 4) & 0xfU];
  }
  return text;
}

}  // namespace ribbay
