// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "answer.hpp"

int main(int count, char** words) { return stilling::command::answer(count, words); }
