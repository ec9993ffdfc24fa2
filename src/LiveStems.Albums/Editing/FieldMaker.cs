using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Editing;

/// <summary>Fields of the kinds an album has: numbers, words, switches, texts.</summary>
internal static class FieldMaker
{
    /// <summary>Written for a value that is not there.</summary>
    public const string None = "none";

    public static AddressField Number(AlbumField field, double value, Func<double, Album> put) =>
        new(field.Spec.Id, field.Format(value), text => put(Parsed(field, text)))
        {
            Words = SpokenName.OfTitle(field.Spec.Name),
            Exact = NumberText.Of(value),
            Initial = (NumberText.Of(field.Spec.Default), field.Format(field.Spec.Default)),
        };

    public static AddressField OptionalNumber(AlbumField field, double? value, Func<double?, Album> put) => new(
        field.Spec.Id,
        value is { } number ? field.Format(number) : None,
        text => put(IsNone(text) ? null : Parsed(field, text)))
        {
            Words = SpokenName.OfTitle(field.Spec.Name),
            Exact = value is { } exact ? NumberText.Of(exact) : None,
        };

    public static AddressField Parameter(string name, ParameterSpec spec, double value, Func<double, Album> put) => new(
        name,
        ParameterText.Format(spec, value),
        text => ParameterText.TryParse(spec, text, out double number, out string fault) ? put(number) : throw new AlbumException(fault))
        {
            Words = SpokenName.OfTitle(spec.Name),
            Exact = NumberText.Of(value),
            Initial = (NumberText.Of(spec.Default), ParameterText.Format(spec, spec.Default)),
        };

    public static AddressField Word<T>(string name, WordTable<T> words, T value, Func<T, Album> put)
        where T : struct, Enum => new(
            name,
            words[value],
            text => words.TryFind(text, out T found)
                ? put(found)
                : throw new AlbumException($"{name} is one of {string.Join(", ", words.All)}, not '{text}'{NearMatch.Hint(text, words.All)}")) { Initial = (words[default], words[default]) };

    public static AddressField Switch(string name, bool value, Func<bool, Album> put)
    {
        ParameterSpec spec = ParameterSpec.Switch(name, SpokenName.OfId(name), false, string.Empty);
        return Parameter(name, spec, value ? 1 : 0, number => put(number > 0));
    }

    public static AddressField Text(string name, string value, Func<string, Album> put) => new(name, value, text => put(text.Trim()));

    public static AddressField OptionalText(string name, string? value, Func<string?, Album> put) =>
        new(name, value ?? None, text => put(IsNone(text) ? null : text.Trim()));

    public static AddressField ReadOnly(string name, string value) => new(name, value, null);

    public static bool IsNone(string text) => text.Trim().Equals(None, StringComparison.OrdinalIgnoreCase);

    private static double Parsed(AlbumField field, string text) =>
        field.TryParse(text, out double number, out string fault) ? number : throw new AlbumException(fault);
}
