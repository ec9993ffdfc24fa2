namespace LiveStems.View.Desk;

/// <summary>
/// How much sound the ears may have: the criterion level that may last for the criterion time, with 3 dB more for half
/// the time (equal energy).
/// </summary>
/// <remarks>
/// <para>
/// NIOSH 98-126 (1998), 1.1: 85 dB(A) for 8 hours a day, exchange rate 3 dB; allowed time T = 480 / 2^((L − 85)/3) minutes,
/// dose D = 100 · Σ C/T per cent; its table 1-1 gives 85 dB 8 h, 88 dB 4 h, 91 dB 2 h, 94 dB 1 h, 97 dB 30 min, 100 dB
/// 15 min.
/// </para>
/// <para>
/// WHO-ITU H.870 (2018): 1.6 Pa²h in seven days for adults (80 dB(A) for 40 hours), 0.51 Pa²h for sensitive users (75 dB(A)
/// for 40 hours). Both recalled from memory.
/// </para>
/// </remarks>
/// <param name="CriterionDbA">Level that may last for the criterion time, in dB(A).</param>
/// <param name="CriterionHours">The criterion time.</param>
/// <param name="Name">What to call it.</param>
public sealed record SoundDose(double CriterionDbA, double CriterionHours, string Name)
{
    // 20 µPa.
    private const double ReferencePascal = 2e-5;

    /// <summary>NIOSH: a working day.</summary>
    public static SoundDose WorkingDay { get; } = new(85, 8, "NIOSH, a working day");

    /// <summary>WHO-ITU H.870, mode 1: a week, adults.</summary>
    public static SoundDose Week { get; } = new(80, 40, "WHO-ITU H.870, a week");

    /// <summary>WHO-ITU H.870, mode 2: a week, sensitive users.</summary>
    public static SoundDose SensitiveWeek { get; } = new(75, 40, "WHO-ITU H.870, a week, sensitive ears");

    /// <summary>The energy that makes 100 %, in Pa²h.</summary>
    public double AllowedPascalSquaredHours => PascalSquared(CriterionDbA) * CriterionHours;

    /// <summary>How long a level may last, in hours.</summary>
    public double AllowedHours(double levelDbA) => AllowedPascalSquaredHours / PascalSquared(levelDbA);

    /// <summary>The dose of a level for so many hours, in per cent.</summary>
    public double Percent(double levelDbA, double hours) => 100 * hours / AllowedHours(levelDbA);

    /// <summary>The dose of an energy in Pa²h, in per cent.</summary>
    public double Percent(double pascalSquaredHours) => 100 * pascalSquaredHours / AllowedPascalSquaredHours;

    /// <summary>Mean square pressure of a level in Pa².</summary>
    public static double PascalSquared(double levelDb) => ReferencePascal * ReferencePascal * Math.Pow(10, levelDb / 10);

    /// <summary>Level of a mean square pressure in dB; −∞ for none.</summary>
    public static double Level(double pascalSquared) => 10 * Math.Log10(pascalSquared / (ReferencePascal * ReferencePascal));
}
