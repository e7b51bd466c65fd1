// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A fuzzer that needs no more than the compiler at hand: linked with one of tests/fuzz, it changes
// what lies in the folder of that name for a share of a minute and keeps whatever reaches code not
// reached before. The changes are drawn in a fixed order; how far it gets is the machine's.
// STILLING_FUZZ_SECONDS sets the time. An input that ends the program is written to the current
// folder under the name it prints.

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <utility>
#include <vector>
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/common_interface_defs.h>
#endif

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

namespace {

std::array<std::uint8_t, 1 << 16> reached{};
std::size_t places = 0;
std::string current;

}  // namespace

/// Called by the code under test at each edge (g++ -fsanitize-coverage=trace-pc).
extern "C" void __sanitizer_cov_trace_pc() {
  const auto here = reinterpret_cast<std::uintptr_t>(__builtin_return_address(0)) -
                    reinterpret_cast<std::uintptr_t>(&LLVMFuzzerTestOneInput);
  auto& seen = reached[(here ^ (here >> 16U)) % reached.size()];
  places += seen == 0 ? 1U : 0U;
  seen = 1;
}

/// The second sanitizer has no callback of its own; it ends by the signal.
extern "C" const char* __ubsan_default_options() { return "abort_on_error=1:print_stacktrace=1"; }

namespace {

void keep_what_ended_it() {
  constexpr auto name = "found-" STILLING_FUZZER;
  std::ofstream{name, std::ios::binary} << current;
  std::fprintf(stderr, "the input is in %s\n", name);
}

extern "C" void on_abort(int) {
  keep_what_ended_it();
  std::_Exit(3);
}

void run(const std::string& input) {
  current = input;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in{file, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

/// The words of a dictionary as libFuzzer reads it: one a line, in quotes, \xHH for a byte.
std::vector<std::string> words_of(const std::filesystem::path& file) {
  std::vector<std::string> words;
  std::ifstream in{file};
  for (std::string line; std::getline(in, line);) {
    if (!line.starts_with('"')) continue;
    std::string word;
    for (std::size_t i = 1; i + 1 < line.size(); ++i) {
      if (line.compare(i, 2, "\\x") != 0) {
        word += line[i];
        continue;
      }
      word += static_cast<char>(std::stoi(line.substr(i + 2, 2), nullptr, 16));
      i += 3;
    }
    words.push_back(word);
  }
  return words;
}

class mutator {
 public:
  explicit mutator(std::vector<std::string> words) : words_{std::move(words)} {}

  std::size_t below(std::size_t n) { return n == 0 ? 0 : chance_() % n; }

  std::string change(std::string s, const std::string& other) {
    for (auto n = 1 + below(4); n > 0; --n) {
      const auto at = below(s.size() + 1);
      const auto size = below(std::min<std::size_t>(s.size() - at, 64) + 1);
      switch (below(8)) {
        case 0: s.erase(at, size); break;
        case 1: s.insert(at, 1, static_cast<char>(below(256))); break;
        case 2: s.insert(at, words_[below(words_.size())]); break;
        case 3: s.insert(at, s.substr(at, size)); break;
        case 4: s.insert(at, other.substr(below(other.size() + 1), 64)); break;
        case 5: s = s.substr(0, at) + other.substr(below(other.size() + 1)); break;
        case 6:
          if (at < s.size()) s[at] = static_cast<char>(s[at] ^ (1 << below(8)));
          break;
        default:
          if (at < s.size()) s[at] = "0123456789.,;:-\n\t #%"[below(20)];
      }
    }
    s.resize(std::min<std::size_t>(s.size(), 4096));
    return s;
  }

 private:
  std::mt19937_64 chance_{20'260'307};
  std::vector<std::string> words_;
};

TEST(mutations, end_nothing) {
  const std::filesystem::path fuzz = std::string{STILLING_TEST_FOLDER} + "/fuzz";
  std::vector<std::string> corpus;
  for (const auto& file : std::filesystem::directory_iterator{fuzz / STILLING_FUZZER})
    corpus.push_back(bytes_of(file.path()));
  std::sort(corpus.begin(), corpus.end());  // a folder has no order
  ASSERT_FALSE(corpus.empty());
  mutator m{words_of(fuzz / "words.dict")};
#ifdef __SANITIZE_ADDRESS__
  __sanitizer_set_death_callback(&keep_what_ended_it);
#endif
  std::signal(SIGABRT, &on_abort);

  for (const auto& input : corpus) run(input);
  const char* const wish = std::getenv("STILLING_FUZZ_SECONDS");
  const auto end = std::chrono::steady_clock::now() +
                   std::chrono::seconds{wish != nullptr ? std::atoi(wish) : 12};
  std::size_t runs = 0;
  const auto before = places;
  while (std::chrono::steady_clock::now() < end) {
    for (int i = 0; i < 16; ++i, ++runs) {
      const auto input = m.change(corpus[m.below(corpus.size())], corpus[m.below(corpus.size())]);
      const auto known = places;
      run(input);
      if (places > known) corpus.push_back(input);
    }
  }
  std::signal(SIGABRT, SIG_DFL);
  std::printf("%zu runs, %zu places reached, %zu of them new, %zu inputs kept\n", runs, places,
              places - before, corpus.size());
  EXPECT_GT(runs, 0U);
#ifdef __SANITIZE_ADDRESS__
  EXPECT_GT(places, 100U) << "the code under test does not say where it is";
#endif
}

}  // namespace
