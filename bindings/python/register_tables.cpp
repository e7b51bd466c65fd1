// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What is known beforehand, each with its source: fuels, criteria, channels and their units.

#include <pybind11/pybind11.h>

#include "register.hpp"
#include "stilling/combustion/fuel_table.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/published_criteria.hpp"
#include "stilling/terms/unit.hpp"

namespace py = pybind11;

namespace stilling::binding {

void register_tables(py::module_& m) {
  m.def("fuels", [] {
    py::list out;
    for (const auto& f : fuel_table) {
      py::dict row;
      row["name"] = f.name;
      row["label"] = f.label;
      row["composition_source"] = f.composition_source;
      row["gross_heating_value_J_per_kg"] =
          f.heating_value ? py::object{py::float_{f.heating_value->value}} : py::none();
      row["heating_value_source"] = f.heating_value_source;
      out.append(row);
    }
    return out;
  });
  m.def("criteria", [] {
    py::list out;
    for (const auto& c : published_criteria) {
      py::dict row;
      row["name"] = c.name;
      row["about"] = c.about;
      row["source"] = c.source;
      row["leaves_out"] = c.leaves_out;
      out.append(row);
    }
    return out;
  });
  m.def("columns", [] {
    py::list out;
    for (const auto c : all_channels)
      for (const auto& u : unit_table)
        if (u.kind == traits_of(c).kind)
          out.append(py::make_tuple(std::string{traits_of(c).name} + "_" + std::string{u.name},
                                    traits_of(c).name, u.name));
    return out;
  });
}

}  // namespace stilling::binding
