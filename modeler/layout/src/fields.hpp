#pragma once

#include "spec/schema.hpp"

#include <string>
#include <utility>
#include <vector>

/// Short forms for writing schemas: `length("depth").needed().above(0).means("...")`.
namespace ribbay::detail {

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
  FieldMaker&& items(std::size_t least, std::size_t most) && {
    field_.least = least;
    field_.most = most;
    return std::move(*this);
  }
  operator Field() && { return std::move(field_); }  // NOLINT: conversion is the point

  FieldMaker&& from(std::string catalogue_kind) && {
    field_.refers_to = std::move(catalogue_kind);
    return std::move(*this);
  }
  FieldMaker&& with(std::string schema_name, std::vector<Field> fields) && {
    field_.inner = std::make_shared<const Schema>(
        Schema{std::move(schema_name), field_.meaning, std::move(fields)});
    return std::move(*this);
  }

 private:
  Field field_;
};

inline FieldMaker length_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::quantity, dimension::length};
}
inline FieldMaker angle_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::quantity, dimension::angle};
}
inline FieldMaker count_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::count};
}
inline FieldMaker flag_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::flag};
}
inline FieldMaker text_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::text};
}
inline FieldMaker choice_field(std::string name, std::vector<std::string> choices) {
  return FieldMaker{std::move(name), FieldKind::choice}.of(std::move(choices));
}
inline FieldMaker reference_field(std::string name, std::string catalogue_kind) {
  return FieldMaker{std::move(name), FieldKind::reference}.from(std::move(catalogue_kind));
}
inline FieldMaker lengths_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::quantities, dimension::length};
}
inline FieldMaker sizes_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::sizes, dimension::length};
}
inline FieldMaker table_field(std::string name, std::vector<Field> fields) {
  return FieldMaker{name, FieldKind::table}.with(name, std::move(fields));
}
inline FieldMaker keyed_field(std::string name, std::vector<Field> fields) {
  return FieldMaker{name, FieldKind::keyed}.with(name, std::move(fields));
}

/// The fields that every module kind has, followed by `own`.
SchemaPtr module_schema(std::string kind, std::string meaning, std::vector<Field> own);

}  // namespace ribbay::detail
