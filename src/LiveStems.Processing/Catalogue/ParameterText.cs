using System.Globalization;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Catalogue;

/// <summary>Parameter values as people write them: "−3 dB", "1.2 kHz", "10 ms", "4:1", "on", "high-pass".</summary>
public static class ParameterText
{
    /// <summary>The value with its unit, with as many digits as the ear could care for.</summary>
    public static string Format(ParameterSpec spec, double value) => spec.Unit switch
    {
        ParameterUnit.Switch => value >= 0.5 ? "on" : "off",
        ParameterUnit.Choice => spec.Choices[(int)spec.Clamp(value)],
        ParameterUnit.Decibels => $"{Number(value, 2)} dB",
        ParameterUnit.DecibelsTruePeak => $"{Number(value, 2)} dBTP",
        ParameterUnit.DecibelsPerOctave => $"{Number(value, 1)} dB/oct",
        ParameterUnit.Hertz when value >= 1000 => $"{Number(value / 1000, 3)} kHz",
        ParameterUnit.Hertz => $"{Number(value, 1)} Hz",
        ParameterUnit.Milliseconds when value >= 1000 => $"{Number(value / 1000, 2)} s",
        ParameterUnit.Milliseconds => $"{Number(value, 2)} ms",
        ParameterUnit.Samples => $"{Number(value, 3)} samples",
        ParameterUnit.Percent => $"{Number(value, 1)} %",
        ParameterUnit.Ratio => $"{Number(value, 2)}:1",
        ParameterUnit.Octaves => $"{Number(value, 2)} oct",
        _ => Number(value, 3),
    };

    /// <summary>The range a person may choose from: "20 Hz to 20 kHz", or the choices.</summary>
    public static string FormatRange(ParameterSpec spec) => spec.Unit switch
    {
        ParameterUnit.Switch => "on or off",
        ParameterUnit.Choice => string.Join(", ", spec.Choices),
        _ => $"{Format(spec, spec.Minimum)} to {Format(spec, spec.Maximum)}",
    };

    /// <summary>
    /// Reads a value written with its unit or as a bare number in the parameter's unit. Fails, with a sentence that says
    /// what is wrong and what would be right, on text that is no number, on a unit of another kind and on values outside
    /// the range.
    /// </summary>
    /// <param name="spec">The parameter.</param>
    /// <param name="text">What the person wrote.</param>
    /// <param name="value">The value in the parameter's unit, when the call returns true.</param>
    /// <param name="fault">What is wrong, when the call returns false; otherwise empty.</param>
    public static bool TryParse(ParameterSpec spec, string text, out double value, out string fault)
    {
        fault = string.Empty;
        string wanted = text.Trim();
        if (spec.Unit == ParameterUnit.Switch)
        {
            value = wanted.ToLowerInvariant() switch { "on" or "true" or "yes" or "1" => 1, "off" or "false" or "no" or "0" => 0, _ => double.NaN };
            fault = double.IsNaN(value) ? $"{spec.Id} is on or off, not '{text}'" : string.Empty;
            return fault.Length == 0;
        }

        if (spec.Unit == ParameterUnit.Choice)
        {
            value = spec.Choices.ToList().FindIndex(choice => choice.Equals(wanted, StringComparison.OrdinalIgnoreCase));
            fault = value < 0 ? $"{spec.Id} is one of {FormatRange(spec)}, not '{text}'" : string.Empty;
            return fault.Length == 0;
        }

        int unitStart = NumberLength(wanted);
        string digits = wanted[..unitStart].Replace('−', '-');
        string unit = wanted[unitStart..].Trim();
        if (!double.TryParse(digits, NumberStyles.Float, CultureInfo.InvariantCulture, out value) || !double.IsFinite(value))
        {
            fault = $"{spec.Id} goes from {FormatRange(spec)} and needs a number such as '{Format(spec, spec.Default)}', not '{text}'";
            return false;
        }

        double scale = Scale(spec.Unit, unit);
        if (double.IsNaN(scale))
        {
            fault = $"{spec.Id} goes from {FormatRange(spec)} and is written as '{Format(spec, spec.Default)}'; the unit '{unit}' does not fit";
            return false;
        }

        value *= scale;
        if (value < spec.Minimum || value > spec.Maximum)
        {
            fault = $"{spec.Id} goes from {FormatRange(spec)}; '{text.Trim()}' lies outside";
            return false;
        }

        value = spec.Clamp(value);
        return true;
    }

    private static string Number(double value, int decimals)
    {
        string text = Math.Round(value, decimals).ToString("0.###", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text.Replace('-', '−');
    }

    private static int NumberLength(string text)
    {
        int length = 0;
        while (length < text.Length && (char.IsAsciiDigit(text[length]) || text[length] is '.' or '+' or '-' or '−'))
        {
            length++;
        }

        return length;
    }

    private static double Scale(ParameterUnit unit, string text)
    {
        string written = text.ToLowerInvariant();
        if (written.Length == 0)
        {
            return 1;
        }

        return unit switch
        {
            ParameterUnit.Decibels => written is "db" or "dbfs" ? 1 : double.NaN,
            ParameterUnit.DecibelsTruePeak => written is "dbtp" or "db" ? 1 : double.NaN,
            ParameterUnit.DecibelsPerOctave => written is "db/oct" or "db/octave" ? 1 : double.NaN,
            ParameterUnit.Hertz => written switch { "hz" => 1, "khz" or "k" => 1000, _ => double.NaN },
            ParameterUnit.Milliseconds => written switch { "ms" => 1, "s" => 1000, "us" or "µs" => 0.001, _ => double.NaN },
            ParameterUnit.Samples => written is "samples" or "sample" or "smp" ? 1 : double.NaN,
            ParameterUnit.Percent => written is "%" ? 1 : double.NaN,
            ParameterUnit.Ratio => written is ":1" or "to 1" ? 1 : double.NaN,
            ParameterUnit.Octaves => written is "oct" or "octave" or "octaves" ? 1 : double.NaN,
            _ => double.NaN,
        };
    }
}
