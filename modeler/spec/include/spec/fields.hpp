#pragma once

#include "spec/schema.hpp"

#include <memory>
#include <string>
#include <utility>
#include <vector>

/// Short forms for writing schemas: `length_field("depth").needed().above(0).means("...")`.
namespace ribbay {

class FieldMaker {
 public:
  FieldMaker(std::string name, FieldKind kind, Dimension dimension = {}) {
    field_.name = std::move(name);
    field_.kind = kind;
    field_.dimension = dimension;
  }
  FieldMaker&& means(std::string text) && {
    field_.meaning = std::move(text);
    return std::move(*this);
  }
  FieldMaker&& needed() && {
    field_.required = true;
    return std::move(*this);
  }
  FieldMaker&& otherwise(std::string text) && {
    field_.fallback = std::move(text);
    return std::move(*this);
  }
  FieldMaker&& above(double limit) && {
    field_.above = limit;
    return std::move(*this);
  }
  FieldMaker&& at_least(double limit) && {
    field_.at_least = limit;
    return std::move(*this);
  }
  FieldMaker&& at_most(double limit) && {
    field_.at_most = limit;
    return std::move(*this);
  }
  FieldMaker&& of(std::vector<std::string> choices) && {
    field_.choices = std::move(choices);
    return std::move(*this);
  }
  FieldMaker&& or_condition() && {
    field_.conditional = true;
    return std::move(*this);
  }
  FieldMaker&& items(std::size_t least, std::size_t most) && {
    field_.least = least;
    field_.most = most;
    return std::move(*this);
  }
  FieldMaker&& from(std::string catalogue_kind) && {
    field_.refers_to = std::move(catalogue_kind);
    return std::move(*this);
  }
  FieldMaker&& with(std::string schema_name, std::vector<Field> fields) && {
    field_.inner = std::make_shared<const Schema>(
        Schema{std::move(schema_name), field_.meaning, std::move(fields)});
    return std::move(*this);
  }
  operator Field() && { return std::move(field_); }  // NOLINT: conversion is the point

 private:
  Field field_;
};

inline FieldMaker quantity_field(std::string name, Dimension dimension) {
  return {std::move(name), FieldKind::quantity, dimension};
}
inline FieldMaker length_field(std::string name) {
  return quantity_field(std::move(name), dimension::length);
}
inline FieldMaker angle_field(std::string name) {
  return quantity_field(std::move(name), dimension::angle);
}
inline FieldMaker mass_field(std::string name) {
  return quantity_field(std::move(name), dimension::mass);
}
inline FieldMaker count_field(std::string name) {
  return {std::move(name), FieldKind::count};
}
inline FieldMaker flag_field(std::string name) {
  return {std::move(name), FieldKind::flag};
}
inline FieldMaker text_field(std::string name) {
  return {std::move(name), FieldKind::text};
}
inline FieldMaker date_field(std::string name) {
  return {std::move(name), FieldKind::date};
}
inline FieldMaker choice_field(std::string name, std::vector<std::string> choices) {
  return FieldMaker{std::move(name), FieldKind::choice}.of(std::move(choices));
}
inline FieldMaker reference_field(std::string name, std::string catalogue_kind) {
  return FieldMaker{std::move(name), FieldKind::reference}.from(std::move(catalogue_kind));
}
inline FieldMaker lengths_field(std::string name) {
  return {std::move(name), FieldKind::quantities, dimension::length};
}
inline FieldMaker sizes_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::sizes, dimension::length}.above(0);
}
/// A point or a size in space, mm.
inline FieldMaker vector_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::vector, dimension::length}.items(3, 3);
}
/// Of named tables: `when` says whether the table counts at all. An evaluator leaves the table out
/// when it does not.
inline FieldMaker when_field() {
  return flag_field("when").or_condition().means(
      "when this is not so, all of this is left out as if it were not written; without it, it is "
      "there");
}
/// Of the tables [X.NAME]: reading the files resolves it, so it never has a value; here for the
/// reference.
inline FieldMaker based_on_field() {
  return text_field("based_on")
      .means(
          "the name of another table of the same kind: its fields count where they are not given "
          "here");
}
inline FieldMaker table_field(std::string name, std::vector<Field> fields) {
  return FieldMaker{name, FieldKind::table}.with(name, std::move(fields));
}
inline FieldMaker keyed_field(std::string name, std::vector<Field> fields) {
  fields.push_back(when_field());
  return FieldMaker{name, FieldKind::keyed}.with(name, std::move(fields));
}
inline FieldMaker list_field(std::string name, std::vector<Field> fields) {
  return FieldMaker{name, FieldKind::list}.with(name, std::move(fields));
}

}  // namespace ribbay
