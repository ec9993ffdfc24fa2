using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>
/// A value that a person sees with its unit, types, drags, turns and resets. The value itself lives in the album; every
/// change goes through the desk and can be undone.
/// </summary>
public sealed class ValueField
{
    private const string None = "none";

    private readonly Func<double> read;
    private readonly Func<double, string?, string?> write;
    private readonly AlbumField? albumField;

    /// <summary>A value of a processor.</summary>
    /// <param name="id">Name that is unique on the desk; also the name of its gesture.</param>
    /// <param name="spec">Name, unit, range, taper.</param>
    /// <param name="read">The present value.</param>
    /// <param name="write">Takes a value and a gesture, and returns a fault or null.</param>
    internal ValueField(string id, ParameterSpec spec, Func<double> read, Func<double, string?, string?> write)
    {
        Id = id;
        Spec = spec;
        this.read = read;
        this.write = write;
    }

    /// <summary>A value of the album itself.</summary>
    internal ValueField(string id, AlbumField field, Func<double> read, Func<double, string?, string?> write)
        : this(id, field.Spec, read, write) => albumField = field;


    /// <summary>Name that is unique on the desk.</summary>
    public string Id { get; }

    /// <summary>Name, unit, range, default, taper and the sentence that says what it does.</summary>
    public ParameterSpec Spec { get; }

    /// <summary>True for a value that may be none, which is written so.</summary>
    public bool IsOptional { get; private init; }

    /// <summary>The value to go back to where that is not the specification's: another value, or NaN for none.</summary>
    internal Func<double>? ResetValue { get; init; }

    /// <summary>What a person reads: "Threshold".</summary>
    public string Name => Spec.Name;

    /// <summary>One sentence for the tooltip.</summary>
    public string Description => Spec.Description;

    /// <summary>The present value in its unit; NaN for none.</summary>
    public double Value => read();

    /// <summary>The present value with its unit.</summary>
    public string Text => Format(Value);

    /// <summary>"−60 dB to 24 dB".</summary>
    public string RangeText => $"{albumField?.FormatRange() ?? ParameterText.FormatRange(Spec)}{OrNone}";

    /// <summary>Position of a control for the present value, 0 to 1.</summary>
    public double Travel => Spec.ToTravel(Value);

    /// <summary>True when the value is the one of something new.</summary>
    public bool IsDefault => Value.Equals(ResetValue?.Invoke() ?? Spec.Clamp(Spec.Default));

    /// <summary>True for what is on or off.</summary>
    public bool IsSwitch => Spec.Unit == ParameterUnit.Switch;

    /// <summary>True for a choice from <see cref="Choices"/>.</summary>
    public bool IsChoice => Spec.Unit == ParameterUnit.Choice;

    /// <summary>The names of a choice, in order from value 0; otherwise empty.</summary>
    public IReadOnlyList<string> Choices => Spec.Choices;

    /// <summary>A value of the album that may be none: null, and NaN in <see cref="Value"/>.</summary>
    internal static ValueField Optional(string id, AlbumField field, Func<double?> read, Func<double?, string?, string?> write, Func<double>? resetValue = null) =>
        new(id, field, () => read() ?? double.NaN, (value, gesture) => write(double.IsNaN(value) ? null : value, gesture)) { IsOptional = true, ResetValue = resetValue };

    /// <summary>Any value of this field as people write it.</summary>
    public string Format(double value) => IsOptional && double.IsNaN(value) ? None : albumField?.Format(value) ?? ParameterText.Format(Spec, value);

    /// <summary>Takes what a person typed; null when taken, otherwise one line that says what is wrong and what would be right.</summary>
    public string? SetText(string text)
    {
        if (IsOptional && text.Trim().Equals(None, StringComparison.OrdinalIgnoreCase))
        {
            return Set(double.NaN);
        }

        bool isRead = albumField is null
            ? ParameterText.TryParse(Spec, text, out double value, out string fault)
            : albumField.TryParse(text, out value, out fault);
        return isRead ? write(value, null) : fault + OrNone;
    }

    /// <summary>Sets the value, held inside its range; a gesture's steps are undone together. Null, or the fault.</summary>
    public string? Set(double value, string? gesture = null)
    {
        double inside = IsOptional && double.IsNaN(value) ? value : Spec.Clamp(value);
        return inside.Equals(Value) ? null : write(inside, gesture);
    }

    /// <summary>Sets the value by the position of a control, 0 to 1, as one of the steps of dragging it.</summary>
    public string? Drag(double travel) => Set(FieldSteps.Rounded(Spec, Spec.FromTravel(travel)), Id);

    /// <summary>Goes up or down by so many steps, coarse or fine: for wheel and arrow keys.</summary>
    public string? Step(int steps, bool fine = false) => Set(double.IsNaN(Value) ? Spec.Default : FieldSteps.Next(Spec, Value, steps, fine), Id);

    /// <summary>On to off and back; for a choice the next one, around.</summary>
    public string? Next()
    {
        double last = Spec.Maximum;
        return Set(Value >= last ? Spec.Minimum : Value + 1);
    }

    /// <summary>Back to the value of something new.</summary>
    public string? Reset() => Set(ResetValue?.Invoke() ?? Spec.Default);

    private string OrNone => IsOptional ? $", or {None}" : string.Empty;
}
