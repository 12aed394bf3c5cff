#include "core/base/hash.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace yw::base {
namespace {

// FIPS 180-4 §4.2.2 and §5.3.3.
constexpr std::array<std::uint32_t, 64> kRound{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};
using State = std::array<std::uint32_t, 8>;
constexpr State kStart{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                       0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};

constexpr std::uint32_t turned(std::uint32_t x, int by) { return (x >> by) | (x << (32 - by)); }

void addBlock(State& state, const unsigned char* block) {
  std::array<std::uint32_t, 64> w{};
  for (std::size_t i = 0; i < 16; ++i)
    w[i] = std::uint32_t{block[4 * i]} << 24 | std::uint32_t{block[4 * i + 1]} << 16 |
           std::uint32_t{block[4 * i + 2]} << 8 | std::uint32_t{block[4 * i + 3]};
  for (std::size_t i = 16; i < 64; ++i) {
    const std::uint32_t a = turned(w[i - 15], 7) ^ turned(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const std::uint32_t b = turned(w[i - 2], 17) ^ turned(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + a + w[i - 7] + b;
  }
  auto [a, b, c, d, e, f, g, h] = state;
  for (std::size_t i = 0; i < 64; ++i) {
    const std::uint32_t one = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const std::uint32_t first = h + one + ((e & f) ^ (~e & g)) + kRound[i] + w[i];
    const std::uint32_t zero = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const std::uint32_t second = zero + ((a & b) ^ (a & c) ^ (b & c));
    h = g;
    g = f;
    f = e;
    e = d + first;
    d = c;
    c = b;
    b = a;
    a = first + second;
  }
  const State step{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) state[i] += step[i];
}

constexpr std::string_view kAlphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

}  // namespace

std::string sha256(std::string_view bytes) {
  State state = kStart;
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  const std::size_t whole = bytes.size() / 64 * 64;
  for (std::size_t at = 0; at < whole; at += 64) addBlock(state, data + at);
  // The rest, a one bit, zeros, and the length in bits as 64 bits: one or two blocks (§5.1.1).
  std::array<unsigned char, 128> tail{};
  const std::size_t rest = bytes.size() - whole;
  for (std::size_t i = 0; i < rest; ++i) tail[i] = data[whole + i];
  tail[rest] = 0x80;
  const std::size_t length = rest < 56 ? 64 : 128;
  const std::uint64_t bits = std::uint64_t{bytes.size()} * 8;
  for (std::size_t i = 0; i < 8; ++i) tail[length - 1 - i] = static_cast<unsigned char>(bits >> (8 * i));
  for (std::size_t at = 0; at < length; at += 64) addBlock(state, tail.data() + at);
  std::string out;
  for (const std::uint32_t word : state)
    for (int shift = 28; shift >= 0; shift -= 4) out += "0123456789abcdef"[(word >> shift) & 15U];
  return out;
}

std::string toBase64(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t group = 0;
    const std::size_t here = std::min<std::size_t>(3, bytes.size() - i);
    for (std::size_t k = 0; k < 3; ++k)
      group = group << 8 | (k < here ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k) out += k <= here ? kAlphabet[(group >> (18 - 6 * k)) & 63U] : '=';
  }
  return out;
}

std::string fromBase64(std::string_view text, bool& ok) {
  ok = text.size() % 4 == 0;
  std::string out;
  for (std::size_t i = 0; ok && i < text.size(); i += 4) {
    const bool last = i + 4 == text.size();
    const std::size_t pads = !last ? 0 : text.substr(i, 4).ends_with("==") ? 2 : text.ends_with('=') ? 1 : 0;
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      const std::size_t digit = k < 4 - pads ? kAlphabet.find(text[i + k]) : 0;
      ok = ok && digit != std::string_view::npos;
      group = group << 6 | (static_cast<std::uint32_t>(digit) & 63U);
    }
    // The bits that padding leaves over must be zero (RFC 4648 §3.5), so that one text stands for one
    // content.
    ok = ok && (group & ((1U << (8 * pads)) - 1U)) == 0;
    for (std::size_t k = 0; k < 3 - pads; ++k) out += static_cast<char>(group >> (16 - 8 * k) & 255U);
  }
  return ok ? out : std::string{};
}

}  // namespace yw::base
