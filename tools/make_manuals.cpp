// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// make_manuals FOLDER: the manual pages and the completion of bash, from the table of options.

#include <CLI/App.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include "completion.hpp"
#include "manual_page.hpp"
#include "options.hpp"

int main(int count, char** words) {
  using namespace stilling::command;
  if (count != 2) {
    std::fputs("make_manuals: which folder?\n", stderr);
    return 2;
  }
  const std::filesystem::path folder{words[1]};
  std::filesystem::create_directories(folder);
  bool written = true;
  const auto write = [&](const std::string& name, const std::string& text) {
    std::ofstream out{folder / name, std::ios::binary};
    out << text;
    written = written && out.flush().good();
  };
  tell_options([&](const CLI::App& command) {
    write(page_name(command) + ".1", manual_page(command));
    for (const auto* verb : command.get_subcommands([](const CLI::App*) { return true; }))
      write(page_name(*verb) + ".1", manual_page(*verb));
    write("stilling.bash", bash_completion(command));
  });
  if (!written) std::fprintf(stderr, "make_manuals: %s cannot be written\n", words[1]);
  return written ? 0 : 1;
}
